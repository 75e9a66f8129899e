"""Lays out dimensions, on paper and on the screen: where each stands beside all others.

`ink` says what two things cost beside each other, `shapes` what places would draw, the `places`
which there are, `choose` which are taken; `lay_out` begins it all. Knows no Qt and no part.
"""
