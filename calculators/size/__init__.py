"""Stage size: how big is it on this model?"""
