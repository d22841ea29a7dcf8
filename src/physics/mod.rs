//! The formulas of the trade, each generic over plain and uncertain numbers, SI units inside.
