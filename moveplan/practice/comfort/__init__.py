"""Heat, air, power and food of animals by the dated plan: who runs on what, where containers stand, who fasts."""
