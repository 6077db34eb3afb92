//! Tests of learning.
