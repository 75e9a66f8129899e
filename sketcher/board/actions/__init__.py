"""Actions by name, one file each; menus, keys and tests reach them through the registry."""
