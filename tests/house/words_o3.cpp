#define WORDS words_optimised
#include "house/words.inc"
