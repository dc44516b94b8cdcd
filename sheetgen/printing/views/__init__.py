"""What layouts may see: for each document a function from a `Plan` and `Words` to words and fractions."""
