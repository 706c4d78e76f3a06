"""From a file, a text or a revision to a build in which every name means something."""
