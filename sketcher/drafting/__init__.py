"""The finished drawing as a display list: line classes, center lines, dimensions, sheet."""
