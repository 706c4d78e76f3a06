"""What is joined to what: the parts of a build looked up, and one graph of all that carries current."""
