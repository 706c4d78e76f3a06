"""The guide: pages of prose that are written, and pages of the tables of a build file that are made from the models."""
