"""What ``sketcher export`` puts on paper: the drawing that is asked for, sheets and records."""
