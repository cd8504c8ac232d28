"""PDF, DOCX, CSV and XLSX writers over plain frozen dataclasses of their own; no database, no web."""
