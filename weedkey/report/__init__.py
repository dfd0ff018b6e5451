"""Results become words, JSON, HTML and calendars here, and only here: the one place that words a trace."""
