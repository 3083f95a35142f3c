"""The trade's parts, how they are joined, and what an installation does."""
