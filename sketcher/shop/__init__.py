"""From the part to the shop: what is cut, with what kerf, from where, in which order.

`planning.plan_cut` gives a `cut_plan.CutPlan`; each stage on the way is a file of its own. Nothing
here writes a file or knows a machine: `exchange` writes plans, and no machine code is made, which
is bound to the machine. May not touch Qt or ezdxf.
"""
