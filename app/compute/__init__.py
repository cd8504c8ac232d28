"""Every formula of Heavy Spot, as pure functions over numpy arrays: no clock, no files, no framework.

A number may be an array of any shape `(...)`; a list of n things is the last axis.
This room may import numpy and the standard library, nothing else.
"""
