"""This score is a sum of points, which the sheet holds; nothing is reckoned here."""
