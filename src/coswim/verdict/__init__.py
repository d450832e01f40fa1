"""From likelihood and consequence to risk, and from the worst finding to a decision."""
