"""The HEART score: the items and their points stand in the sheet; nothing is reckoned here."""
