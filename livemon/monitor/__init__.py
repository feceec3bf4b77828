"""The whole core as one object: feed it, ask it for a snapshot."""
