"""What translators need: a template of all texts, and a check of what they send."""
