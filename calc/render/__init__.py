"""A design made visible: HTML, SVG, CSV and link, used alike by the build and by the browser."""
