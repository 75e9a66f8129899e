"""The Qt program on top of the board."""
