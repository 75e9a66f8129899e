"""Lays out dimensions, on paper and on the screen: where each stands beside all others.

`ink` says what two things cost beside each other, `shapes` what places would draw, the `places`
which there are, `choose` which are taken, `make_room` what moves for what; `lay_out` begins it all.
Knows no Qt and no part.

Sizes, the measure of text and the effort come in, so that screen and paper share it. Places are
named by what they stand beside and go into the next frame; what ``drawing.placed`` holds stays.
`Layout.badly` names what found no room: the sheet then takes a larger scale or says so
(`Page.crowded`).
"""
