//! Tests of the sheet on boards that are worked out by hand.
