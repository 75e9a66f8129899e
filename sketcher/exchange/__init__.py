"""Writers and readers of other formats: DXF, SVG, PDF."""
