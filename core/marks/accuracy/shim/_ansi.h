#ifndef _ANSI_H_
#define _ANSI_H_
#define _BEGIN_STD_C
#define _END_STD_C
#define _NOTHROW
#define _EXFUN(n,p) n p
#define _EXFNPTR(n,p) (*n) p
#define _DEFUN(n,l,a) n(a)
#define _DEFUN_VOID(n) n(void)
#define _AND ,
#define _CONST const
#define _VOID void
#define _PTR void *
#define __restrict
#define __restrict__
#define restrict
#define __inline
#define __volatile__ volatile
#define __signed__ signed
#define __THROW
#define _REENT_MAGIC 1
#ifndef EINVAL
#define EINVAL 22
#define ERANGE 34
#define ENOMEM 12
#endif
#endif
