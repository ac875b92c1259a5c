"""What the page of a club shows, and its handout of two printed pages."""
