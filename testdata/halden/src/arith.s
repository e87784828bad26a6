| arith.s: the long arithmetic that a 68000 does not have in one instruction, and moves of memory.
|
| The first five names are those the C compiler calls. Arguments are on the stack, the answer is in d0; d0, d1, a0 and
| a1 may be spoilt.

	.text
	.global	__mulsi3, __udivsi3, __umodsi3, __divsi3, __modsi3
	.global	memcpy, memmove, memset, memcmp

| The product of the two high halves would only land above bit 31, so three short products do.
__mulsi3:
	move.w	4(%sp), %d0
	mulu.w	10(%sp), %d0
	move.w	6(%sp), %d1
	mulu.w	8(%sp), %d1
	add.w	%d1, %d0
	swap	%d0
	clr.w	%d0
	move.w	6(%sp), %d1
	mulu.w	10(%sp), %d1
	add.l	%d1, %d0
	rts

__udivsi3:
	move.l	4(%sp), %d0
	move.l	8(%sp), %d1
	bra.s	divide

__umodsi3:
	move.l	4(%sp), %d0
	move.l	8(%sp), %d1
	bsr.s	divide
	move.l	%d1, %d0
	rts

__divsi3:
	move.l	4(%sp), %d0
	bpl.s	1f
	neg.l	%d0
1:	move.l	8(%sp), %d1
	bpl.s	2f
	neg.l	%d1
2:	bsr.s	divide
	move.b	4(%sp), %d1
	eor.b	%d1, 8(%sp)		| bit 7: the signs differ
	bpl.s	3f
	neg.l	%d0
3:	rts

__modsi3:
	move.l	4(%sp), %d0
	bpl.s	1f
	neg.l	%d0
1:	move.l	8(%sp), %d1
	bpl.s	2f
	neg.l	%d1
2:	bsr.s	divide
	move.l	%d1, %d0
	tst.b	4(%sp)			| the remainder has the sign of the dividend
	bpl.s	3f
	neg.l	%d0
3:	rts

| d0 by d1: quotient to d0, remainder to d1. A zero divisor ends in the processor's own zero-divide exception.
divide:
	movem.l	%d2-%d3, -(%sp)
	cmp.l	#0x10000, %d1
	bcc.s	1f
	moveq	#0, %d2			| a short divisor: two DIVU, high half first
	move.l	%d0, %d3
	swap	%d3
	move.w	%d3, %d2
	divu.w	%d1, %d2
	move.w	%d2, %d3
	swap	%d3			| high half of the quotient in place
	move.w	%d0, %d2
	divu.w	%d1, %d2
	move.w	%d2, %d3
	clr.w	%d2
	swap	%d2
	move.l	%d3, %d0
	move.l	%d2, %d1
	movem.l	(%sp)+, %d2-%d3
	rts
1:	moveq	#0, %d2			| a long divisor: the quotient has 16 bits at most
	swap	%d0
	move.w	%d0, %d2
	clr.w	%d0
	moveq	#15, %d3
2:	add.l	%d0, %d0
	addx.l	%d2, %d2
	cmp.l	%d1, %d2
	bcs.s	3f
	sub.l	%d1, %d2
	addq.w	#1, %d0
3:	dbra	%d3, 2b
	move.l	%d2, %d1
	movem.l	(%sp)+, %d2-%d3
	rts

| memmove(to, from, count) goes backwards when the target lies above the source.
memmove:
	movea.l	4(%sp), %a1
	movea.l	8(%sp), %a0
	cmpa.l	%a0, %a1
	bls.s	forward
	move.l	12(%sp), %d0
	adda.l	%d0, %a0
	adda.l	%d0, %a1
	bra.s	2f
1:	move.b	-(%a0), -(%a1)
2:	subq.l	#1, %d0
	bcc.s	1b
	move.l	4(%sp), %d0
	rts

memcpy:
forward:
	movea.l	4(%sp), %a1
	movea.l	8(%sp), %a0
	move.w	%a0, %d1
	move.w	%a1, %d0
	or.w	%d0, %d1
	move.l	12(%sp), %d0
	btst	#0, %d1			| an odd end means bytes
	bne.s	4f
	move.l	%d0, %d1
	lsr.l	#2, %d1
	bra.s	2f
1:	move.l	(%a0)+, (%a1)+
2:	subq.l	#1, %d1
	bcc.s	1b
	and.l	#3, %d0
	bra.s	4f
3:	move.b	(%a0)+, (%a1)+
4:	subq.l	#1, %d0
	bcc.s	3b
	move.l	4(%sp), %d0
	rts

memset:
	movea.l	4(%sp), %a0
	move.l	8(%sp), %d1
	move.l	12(%sp), %d0
	bra.s	2f
1:	move.b	%d1, (%a0)+
2:	subq.l	#1, %d0
	bcc.s	1b
	move.l	4(%sp), %d0
	rts

memcmp:
	movea.l	4(%sp), %a0
	movea.l	8(%sp), %a1
	move.l	12(%sp), %d0
	bra.s	2f
1:	cmpm.b	(%a0)+, (%a1)+
	bne.s	3f
2:	subq.l	#1, %d0
	bcc.s	1b
	moveq	#0, %d0
	rts
3:	moveq	#0, %d0
	moveq	#0, %d1
	move.b	-(%a0), %d0
	move.b	-(%a1), %d1
	sub.l	%d1, %d0
	rts
