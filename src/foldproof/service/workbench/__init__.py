"""What the workbench computes and keeps, for its pages."""
