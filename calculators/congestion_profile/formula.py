"""The four bedside profiles of heart failure: the items and their points stand in the sheet; nothing is reckoned here."""
