/// Reading recordings, measured against other programs.
#pragma once

/// Prints the ratios; takes about half a minute, and 300 MiB in the folder for temporary files.
void print_reading_ratios();
