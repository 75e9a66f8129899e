"""What leads a person: the first part, step by step, and the pages of the help."""
