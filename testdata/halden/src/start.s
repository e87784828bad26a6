| start.s: what the 68000 finds at power-on, and every door through which it comes back.
|
| The latch shows the ROM at address 0 until the reset code takes it away; the vectors are then copied to RAM, where
| the processor looks for them from then on.

	.equ	LATCH,       0xD40001
	.equ	TICK_DONE,   0xD3001F
	.equ	LOW_RAM,     0x020000	| this much is tested before anything is kept in RAM
	.equ	VECTORS,     256

| Offsets into struct registers of halden.h.
	.equ	AT_USP,      60
	.equ	AT_SSP,      64
	.equ	AT_PC,       68
	.equ	AT_ACCESS,   72
	.equ	AT_SR,       76
	.equ	AT_KIND,     78
	.equ	AT_OPCODE,   80

	.section .vectors, "a"
	.global	vectors
vectors:
	.long	stack_top		| 0  supervisor stack
	.long	reset			| 1  first instruction
	.set	n, 2
	.rept	23			| 2 to 24: errors, traces, unassigned, spurious interrupt
	.long	stubs + 4 * n
	.set	n, n + 1
	.endr
	.long	stubs + 4 * 25		| 25 level 1, not wired
	.long	keyboard_interrupt	| 26 level 2
	.long	stubs + 4 * 27		| 27 level 3, the serial part: its interrupt is never enabled
	.long	tick_interrupt		| 28 level 4
	.long	stubs + 4 * 29		| 29 level 5, the disk: polled
	.long	stubs + 4 * 30		| 30 level 6, expansion cards
	.long	stubs + 4 * 31		| 31 level 7, the attention button
	.long	service_call		| 32 TRAP #0
	.set	n, 33
	.rept	VECTORS - 33		| 33 to 255: the other traps, and what cards may raise
	.long	stubs + 4 * n
	.set	n, n + 1
	.endr

	.section .start, "ax"
	.global	reset
reset:
	move.w	#0x2700, %sr
	reset				| every part on the board, not the processor
	move.b	#0x11, LATCH		| ROM away from address 0, first lamp on
	bra.s	test_low_ram
	.ascii	"HALDEN HX-16 SYSTEM ROM REV C 1988-03-14\0"
	.ascii	"Made by the instrument works at Halden. All of this is ours.\0"
	.even

| A march over the RAM that the stack, the vectors and the variables need. It keeps everything in registers.
test_low_ram:
	suba.l	%a0, %a0
	move.w	#LOW_RAM / 4 - 1, %d0
1:	clr.l	(%a0)+
	dbra	%d0, 1b
	suba.l	%a0, %a0
	move.w	#LOW_RAM / 4 - 1, %d0
	moveq	#-1, %d1
2:	tst.l	(%a0)
	bne.s	low_ram_bad
	move.l	%d1, (%a0)+
	dbra	%d0, 2b
	move.w	#LOW_RAM / 4 - 1, %d0
3:	cmp.l	-(%a0), %d1
	bne.s	low_ram_bad
	move.l	%a0, (%a0)		| its own address: lines that are bridged show at the next pass
	dbra	%d0, 3b
	move.w	#LOW_RAM / 4 - 1, %d0
4:	cmpa.l	(%a0), %a0
	bne.s	low_ram_bad
	addq.l	#4, %a0
	dbra	%d0, 4b

	lea	stack_top, %sp
	lea	bss_start, %a0
	move.l	#bss_longs, %d0
5:	clr.l	(%a0)+
	subq.l	#1, %d0
	bne.s	5b
	lea	vectors, %a0
	suba.l	%a1, %a1
	move.w	#VECTORS - 1, %d0
6:	move.l	(%a0)+, (%a1)+
	dbra	%d0, 6b
	move.b	#0x31, LATCH		| second lamp
	jsr	power_on
	bra	reset			| power_on does not return

| No RAM, so no stack and no message: the second and the fourth lamp take turns. d7 counts the time.
low_ram_bad:
	move.b	#0x21, LATCH
	move.l	#200000, %d7
1:	subq.l	#1, %d7
	bne.s	1b
	move.b	#0x81, LATCH
	move.l	#200000, %d7
2:	subq.l	#1, %d7
	bne.s	2b
	bra.s	low_ram_bad

| Every vector without a handler of its own points at its own BSR here; the address that the BSR leaves on the stack
| is the vector's number in disguise.
stubs:
	.rept	VECTORS
	bsr.w	exception
	.endr

exception:
	move.w	#0x2700, %sr
	movem.l	%d0-%d7/%a0-%a6, saved
	lea	saved, %a1
	move.l	(%sp)+, %d0
	sub.l	#stubs + 4, %d0
	lsr.l	#2, %d0			| the vector's number
	cmp.w	#4, %d0
	bcc.s	1f			| only bus and address errors leave these four words
	move.w	(%sp)+, AT_KIND(%a1)
	move.l	(%sp)+, AT_ACCESS(%a1)
	move.w	(%sp)+, AT_OPCODE(%a1)
1:	move.w	(%sp)+, AT_SR(%a1)
	move.l	(%sp)+, AT_PC(%a1)
	move.l	%sp, AT_SSP(%a1)
	move.l	%usp, %a0
	move.l	%a0, AT_USP(%a1)
	lea	stack_top, %sp
	move.l	%d0, -(%sp)
	jsr	exception_report	| into the monitor, with the registers in `saved`
	bra	reset

| go_program(state): loads every register and goes.
	.global	go_program
go_program:
	movea.l	4(%sp), %a0
	move.w	#0x2700, %sr
	movea.l	AT_USP(%a0), %a1
	move.l	%a1, %usp
	movea.l	AT_SSP(%a0), %sp
	move.l	AT_PC(%a0), -(%sp)
	move.w	AT_SR(%a0), -(%sp)
	movem.l	(%a0), %d0-%d7/%a0-%a6
	rte

keyboard_interrupt:
	movem.l	%d0-%d1/%a0-%a1, -(%sp)
	jsr	keyboard_take
	movem.l	(%sp)+, %d0-%d1/%a0-%a1
	rte

tick_interrupt:
	addq.l	#1, ticks
	move.b	#1, TICK_DONE
	rte

| TRAP #0: number in d0, arguments in d1, d2 and a0, the answer in d0. An unknown number answers -1.
service_call:
	cmp.l	#service_count, %d0
	bcc.s	1f
	move.l	%a0, -(%sp)
	move.l	%d2, -(%sp)
	move.l	%d1, -(%sp)
	lsl.w	#2, %d0
	lea	services, %a0
	movea.l	(%a0, %d0.w), %a0
	jsr	(%a0)
	lea	12(%sp), %sp
	rte
1:	moveq	#-1, %d0
	rte

	.balign	4
services:
	.long	service_character	| 0  write the character d1
	.long	service_string		| 1  write the string at d1
	.long	console_key		| 2  wait for a key
	.long	service_ready		| 3  is a key waiting?
	.long	memory_size		| 4
	.long	service_ticks		| 5
	.long	disk_read		| 6  sector d1 to address d2
	.long	disk_write		| 7  sector d1 from address d2
	.long	display_at		| 8  column d1, row d2
	.long	chance			| 9  a number below d1
	.long	fixed_multiply		| 10 to 13: numbers with 16 bits after the point
	.long	fixed_divide
	.long	fixed_root
	.long	sine
	.long	direction		| 14 angle of x d1, y d2; 1024 to the circle
	.long	common_divisor		| 15
	.equ	service_count, (. - services) / 4

console_key:
	jmp	ask_key
service_ticks:
	move.l	ticks, %d0
	rts

	.section .bss
	.balign	4
	.global	saved, ticks
saved:	.space	84
ticks:	.space	4
