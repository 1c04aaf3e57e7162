"""Parts lists from outside, of whatever shape, to rows of items and structure; no files."""
