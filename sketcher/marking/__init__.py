"""Hand-ins measured against a key."""
