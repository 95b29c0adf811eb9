"""The Dutch Lipid Clinic Network score: the items and their points stand in the sheet; nothing is reckoned here."""
