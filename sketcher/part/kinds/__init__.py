"""Binding kinds, one file each: what a kind binds, its sides, its residual and its derivatives."""
