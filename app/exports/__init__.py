"""PDF and CSV writers over plain frozen dataclasses of their own: no database, no web framework."""
