"""`lastcoat serve`: the screens in a browser, for the tablet at the desk."""
