"""Pictures that the handbook draws itself: deterministic SVG with a title and a description."""
