"""The prompts of the first part, one a file, in the order of their rank."""
