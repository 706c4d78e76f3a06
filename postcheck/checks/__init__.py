"""Judgement: small functions that read a survey and yield findings."""
