"""Both sets of criteria are counts, which the sheet holds; nothing is reckoned here."""
