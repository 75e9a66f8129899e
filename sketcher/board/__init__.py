"""The running program without a window: part, history, selection, picking, tools, actions."""
