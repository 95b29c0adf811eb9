"""From content and calculators to a published site."""

# The one place where the version and its date are written.
__version__ = "0.1.0"
__date__ = "2026-11-24"
