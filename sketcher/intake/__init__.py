"""Somebody else's drawing becomes bound, repaired halves.

`take_in.take_in(content, wishes)` goes through the steps in the order of its lines, one file each,
from the curves of a DXF (`exchange.dxf_content`) to parts with bindings, and tells every repair on
the way (`linework.Repair`: what, where, how large). A person may refuse each by its name
(`wishes.Wishes.keep`); what cannot be decided alone is a `linework.Question`.

Values in and values out: nothing here reads or writes a file, and ezdxf stays in `exchange`.
"""
