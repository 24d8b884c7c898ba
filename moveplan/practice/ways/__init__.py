"""Which ways of moving the facts allow, their legs, and each as a whole out of phases."""
