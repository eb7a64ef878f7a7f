"""The web pages and the interface for scripts: Starlette over the same functions as the commands.

`site` puts the routes together; `guard` stands in front of them; `workers` plans in processes of their own, so that no
page waits for another; `serving` starts it all on this machine.
"""
