"""Test calculators: one for each kind of field and result that no real calculator uses yet, and for what can go wrong.

The default site has none of them; ``python -m builder build --include tests/workbench`` puts them on it.
"""
