//! What the model between two ends promises, checked.
