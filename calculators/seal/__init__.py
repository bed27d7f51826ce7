"""Stage seal: when is it dry, and how much sealer does it need?"""
