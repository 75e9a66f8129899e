"""What tools are made of: the state machines that several share, trials of edits, and previews.

No finished tool stands here, and nothing here knows another tool by name.
"""
