"""What build.py is made of: setting up, bundling, rendering pages, serving, testing and measuring."""
