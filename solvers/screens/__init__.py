"""What people see: the bench in a page and in a notebook, and the site that carries it.

Import the module you need: `page` runs in a browser's Python too, the others only on the machine that builds the site.
"""

__all__: list[str] = []
