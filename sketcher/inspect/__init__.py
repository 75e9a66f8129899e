"""Inspection: every dimension, joint, loop and cutting rule of the whole part, measured."""
