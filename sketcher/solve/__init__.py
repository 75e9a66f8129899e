"""The solver: reduction, equations, Newton, freedoms, clashes and the order of construction."""
