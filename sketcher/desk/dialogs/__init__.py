"""Small dialogs, one file each."""
