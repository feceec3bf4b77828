"""A simulated radio with invented sensors, for demonstrations and tests: no hardware needed."""
