"""What a little more of something would buy: changed bays, solved again from the plan in hand."""
