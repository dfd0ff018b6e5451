"""The screens in a browser: who may open them, how many at once, and the page that carries them."""
