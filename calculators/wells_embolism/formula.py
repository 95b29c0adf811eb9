"""The Wells score for pulmonary embolism: the items and their points stand in the sheet; nothing is reckoned here."""
