"""Each job on its day: measured, staffed, lent the firm's gear, and placed in the hours that others leave."""
