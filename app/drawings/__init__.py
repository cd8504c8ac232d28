"""Engineering drawings as plain data and as SVG text.

Each drawing is one function in its own file; it takes plain dataclasses and text that the caller has
formatted and returns a `drawing.Drawing`. This room computes no answer and formats no unit.
Angles are degrees clockwise from the valve at the top, the wheel seen from outboard.
"""
