"""What hazards hand on and verdict and report read: findings, their figures and pictures."""
