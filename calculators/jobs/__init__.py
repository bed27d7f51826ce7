"""Jobs: every marking of a livery with its models, in one versioned format that page, command line and files share.

``model`` declares what a job contains; reader, writer, JSON Schema and the columns of the list are made of it. What a
page needs of this comes in a part of its own: no calculator imports it.
"""
