"""What people see. present.py words and rounds; qt and terminal only show."""
