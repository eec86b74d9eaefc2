#define WORDS words_unoptimised
#include "house/words.inc"
