"""One planning key served need by need, where needs are of several ranks or may not have all."""
