"""Lengths and angles: text to numbers, numbers to text, named parameters.

`parse.evaluate(text, quantity, unit, names)` returns a float; `quantity` is ``"length"`` (in the
part's unit), ``"angle"`` (degrees) or ``"number"``, and `names` maps a parameter to its `Value`,
amount and dimension, which `parameters.evaluate_all(parameters, unit)` makes. `format.length` and
`format.angle` print. What a person types goes through `written.evaluate_written`. All raise
`QuantityError`; nothing here knows a part.
"""
