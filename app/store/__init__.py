"""The only room that knows SQLAlchemy. Imports no Flask, no forms, no templates.

Functions here are questions and small acts on rows: they take the session first and never commit; the
service that opened the transaction does.
"""
