"""Virtual painters and cameras in front of the reader: pictures, a plain reader beside it, and the score."""
