"""The documents that people write and read: jobs and plans."""
