"""The workbench: the whole job in a browser, served on this machine."""
