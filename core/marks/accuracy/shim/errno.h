extern int errno;
#include "_ansi.h"
