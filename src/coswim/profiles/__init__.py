"""What a species is: traits with sources, the words they are written in, and where they are found."""
