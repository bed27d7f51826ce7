"""Test calculators for kinds of fields and results that no real calculator uses yet, and for failures.

The default site has none of them; ``python -m builder build --include tests/workbench`` puts them on it.
"""
