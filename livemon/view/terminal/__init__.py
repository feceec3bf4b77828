"""The same pictures as text."""
