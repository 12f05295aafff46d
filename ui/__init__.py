"""The window: one session object between the core and the widgets."""
