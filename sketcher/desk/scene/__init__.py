"""The drawing surface: view, layers, painter paths."""
