"""Tools as state machines over plain events, one file each.

A tool changes the part by edits alone and knows neither a window nor another tool.
"""
