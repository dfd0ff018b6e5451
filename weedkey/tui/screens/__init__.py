"""One module a screen; imported when the screen is first opened."""
