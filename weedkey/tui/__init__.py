"""The screens: the only package that imports Textual. They ask for views and post intents; they decide nothing."""
