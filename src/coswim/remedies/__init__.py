"""What would have to change: changed plans, tried by screening them."""
