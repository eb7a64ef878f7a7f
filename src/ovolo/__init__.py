"""Ovolo plans, predicts, guides and checks the turning of curved profiles on a manual lathe.

A job goes in, a plan of single-slide moves comes out, the plan's own sweep says what will be left on the
part, and what is measured afterwards corrects the next cut::

    job.toml -> part, shop -> plan -> predict -> check
                    documents, show, store, app and cli read them from and hand them to people

The rooms, in the order in which data passes through them: ``errors`` and ``units``; ``geometry``; ``part``
(what to make) and ``shop`` (what there is to make it with); ``plan``; ``predict``; ``check``;
``documents`` (the files people write and read); ``show`` and ``store``; ``app`` and ``cli``. A room imports
only from rooms before it. Inside, lengths are millimetres and angles radians.
"""

from ovolo.errors import Fault, FaultsFound, OvoloError

__all__ = ["Fault", "FaultsFound", "OvoloError"]
