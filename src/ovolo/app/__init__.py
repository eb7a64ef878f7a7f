"""The web pages."""
