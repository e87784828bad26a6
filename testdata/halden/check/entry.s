| entry.s: start and system calls of the Linux emulator that the harness runs under.

	.text
	.global	entry, system_call
entry:
	move.l	(%sp), %d0		| number of arguments, then the arguments
	lea	4(%sp), %a0
	move.l	%a0, -(%sp)
	move.l	%d0, -(%sp)
	jsr	check_main
	move.l	%d0, %d1
	moveq	#1, %d0			| exit
	trap	#0

| system_call(number, a, b, c)
system_call:
	movem.l	%d2-%d3, -(%sp)
	move.l	12(%sp), %d0
	move.l	16(%sp), %d1
	move.l	20(%sp), %d2
	move.l	24(%sp), %d3
	trap	#0
	movem.l	(%sp)+, %d2-%d3
	rts

	.section .rodata
	.global	raw_picture
raw_picture:	.incbin	"picture.bin"

	.section .rom, "ax"
	.incbin	"halden-u41.bin"
