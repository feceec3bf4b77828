"""Windows of samples to numbers with their uncertainty."""
