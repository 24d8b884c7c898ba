"""Many runs at once: durations drawn, tasks worked through, and what is kept of them."""
