"""What leaves the screen: sheets to build from, a list to shop with, a template to drill through, a calendar."""
