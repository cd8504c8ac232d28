"""The calculations' wire names, inputs and answers.

Importing this room registers every calculation. It may import app.compute and pydantic, nothing of the web.
"""
