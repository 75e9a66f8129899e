"""Writers of other formats: DXF, SVG, PDF; and the reader of records filled in.

`sheet_file.write_sheet`, `dxf_cut.write_cut` and `record_file.write_record` write what `drafting`
and `inspect` made; `measured_file.read_measured` reads; `pdf.paint(painter, page)` serves a print
preview too. `outputs.Outputs` plans what a command or an export of the window
writes, looks at every place before anything is written (`add`, `write`), and keeps the contents
until all are there (`put`, which every writer takes in place of `write_bytes`). A `Form` says how
names end and what it may replace unasked; the window asks a person instead of refusing
(`board.files.replace_question.planned`).

Nothing here works out geometry or a layout. Only `pdf` knows Qt, and it needs no window.
"""
