"""The machinery of learning: jobs, the bench, evidence and marks."""
