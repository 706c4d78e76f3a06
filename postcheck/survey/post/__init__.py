"""The post and every other passage: what lies in it, and what turning and threading do to it."""
