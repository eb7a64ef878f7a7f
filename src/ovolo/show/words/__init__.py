"""Facts as sentences and tables, in the job's own unit."""
