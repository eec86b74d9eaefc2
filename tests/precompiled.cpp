// Compiled for its precompiled headers, which the tests share.
