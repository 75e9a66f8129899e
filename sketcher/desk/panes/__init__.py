"""Ledger, inspection pane, readout."""
