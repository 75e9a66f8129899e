"""Where dimensions, signs and center lines stand on the scene, and which is under the pointer.

These are questions about a part at a zoom: nothing here changes the part, solves or draws.
"""
