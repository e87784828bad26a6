#include "_ansi.h"
