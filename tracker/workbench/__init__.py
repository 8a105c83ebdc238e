"""The verbs that join the rooms; both front ends call only these."""
