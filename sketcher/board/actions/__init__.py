"""Actions by name, one file each; menus, keys and tests reach them through the registry.

What an action asks of a person or a window goes through the window port, never through Qt.
"""
