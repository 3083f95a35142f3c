"""One solver module a chapter: objectives, jobs, questions."""
