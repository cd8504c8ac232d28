"""What a lab means: scenario, variant, truth, model, answers, marks.

This room knows no web framework, no database and no files. It may import `app.compute`, numpy and pydantic.
"""
