"""Invented bodies and sensors, seeded: for the demo, the fixtures and the scoring."""
