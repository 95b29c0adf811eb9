"""The four profiles of heart failure: the items stand in the sheet; nothing is reckoned here."""
