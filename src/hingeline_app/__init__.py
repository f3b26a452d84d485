"""Hingeline, the application: everything that touches the world. The library does the thinking."""
