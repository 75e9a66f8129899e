"""Marks a finished sheet as an instructor would: from 100, less what stands on the written files.

Only what was written is read: the SVG by an XML parser (which line is of which kind and belongs to
which dimension stands in its attributes), the PDF by pdfplumber (the same strokes must be there),
the DXF by ezdxf. Nothing here knows how the program draws. `written_sheet` reads, the modules
`judge_...` look for one kind of fault each, `deductions` says what a fault costs, and
``python -m tests.sheet_marks`` prints the table.
"""
