#include "_ansi.h"
struct _reent { int _errno; char *_strtok_last; int _mblen_state; };
extern struct _reent *_impure_ptr;
#define _REENT _impure_ptr
#define __errno_r(p) ((p)->_errno)
