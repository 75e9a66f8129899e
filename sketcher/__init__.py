"""Part-profile sketcher: exact profiles of flat plate parts, solved, inspected and delivered."""

__version__ = "0.1.0"
