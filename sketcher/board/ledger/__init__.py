"""The ledger's rows: bindings, parameters, the numbers of patterns, and what is typed there.

A change goes through the steps as one edit; nothing here touches the readout or a tool.
"""
