"""The arithmetic of the handbook, in Python that runs alike on the desktop and in the browser.

Every module here keeps to the common ground of CPython 3.11 and newer, Pyodide and MicroPython;
tests/calculators/test_portable_rules.py holds the rules.
"""
