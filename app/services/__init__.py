"""One function per use case; each owns its transaction. Imports no Flask and no SQLAlchemy.

Every function takes the database first and everything else by keyword; `now` is an aware datetime in UTC.
What comes back is a frozen dataclass that has no database behind it.
"""
