"""The CHA2DS2-VA score: the items and their points stand in the sheet; nothing is reckoned here."""
