//! Frame times of an MP4 or QuickTime file, and its clock.
