"""The only room that knows SQLAlchemy. Imports no Flask, no forms, no templates.

Functions here are questions and small acts on rows: they take the session first and never commit; the
service that opened the transaction does.

An argument `x_id` is a public id, `x_key` a row's number. The functions that add a row take the names of its
columns, where `x_id` is the number of the row it points to.
"""
