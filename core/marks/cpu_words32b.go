package marks

// marksARM holds the marks of the ARM family.
// From memory or seen in compiled code; to be checked against: ARM Architecture Reference Manual.
const marksARM = `
E1A0F00E mov pc,lr
E12FFF1E bx lr
E8BD.... ldmfd sp!
E92D4... stmfd sp!,{..lr}
E8BD8... ldmfd sp!,{..pc}
E92D.... stmfd sp!
E1A0C00D mov ip,sp
E24CB004 sub fp,ip,#4
E91BA... ldmdb fp
E59F.... ldr rN,[pc]
EB00.... bl forward
EBFF.... bl backward
EA00.... b forward
EAFF.... b backward
E3A00000 mov r0,#0
E3A0.00. mov rN,#n
E1A0000. mov r0,rN
E1A0.00. mov rN,rM
E3500000 cmp r0,#0
E35.0000 cmp rN,#0
0A00.... beq
1A00.... bne
1AFF.... bne backward
E24DD0.. sub sp,sp,#n
E28DD0.. add sp,sp,#n
E52DE004 push {lr}
E49DF004 pop {pc}
E08F.00. add rN,pc,rM
E58D.0.. str rN,[sp,#n]
E59D.0.. ldr rN,[sp,#n]
E79..00. ldr rN,[rM,rK]
E59D.... ldr [sp]
E58D.... str [sp]
E08..00. add
E0..000. add/sub r
E08..10. add lsl #2
E08..18. add lsl #3
E15..00. cmp r,r
E590.00. ldr [r0,#n]
E594.... ldr [r4,#n]
E584.... str [r4,#n]
E5C..00. strb
E5D..00. ldrb
E28..001 add #1
E24..001 sub #1
E28..00. add #n
E3A0.... mov #n
E1A0.10. mov lsl #2
E1A0.82. mov lsr
E49..004 ldr post #4
E48..004 str post #4
EBFFF... bl near backward
`

// marksPARISC holds the marks of the PA-RISC family.
// From memory or seen in compiled code; to be checked against: PA-RISC 1.1 Architecture and Instruction Set Reference Manual.
const marksPARISC = `
E840C002 bv,n r0(rp)
E840C000 bv r0(rp)
6BC23FD9 stw rp,-20(sp)
4BC23F.. ldw -n(sp),rp
08000240 nop
37DE.... ldo n(sp),sp
37DE3... ldo -n(sp),sp
341C000. ldi n,ret0
2B60.... addil dp
2A60.... addil r19
6FC3.... stw,ma r3
4FC33F.. ldw,mb r3
6BD33FC1 stw r19,-32(sp)
081.0240 copy
0800025C copy r0,ret0
08..0253 copy rN,r19
0813024. copy r19,rN
08..025. copy to r16+
08..0244 copy to r4
E85F.... b,l (call) backward
E840.... b,l (call)
6BC.3... stw rN,-n(sp)
4BC.3F.. ldw -n(sp),rN
23E1.... ldil L',r31
E7E0.... be
E820.... bl/bv
EBFF.... b,l backward
E8000... b forward
E81F.... b backward
8..02... comb/cmpib
0C..109. ldw short
0F..109. ldw short
0E..12.. stw short
6BC..... stw n(sp)
4BC..... ldw n(sp)
4BD3.... ldw n(sp),r19
4BDA.... ldw n(sp),arg0
6BC3.... stw r3,n(sp)
6BC4.... stw r4,n(sp)
4BC4.... ldw n(sp),r4
4BC53... ldw n(sp),r5
73C..... std n(sp)
D0..1... extru
D4..0C.. dep
D73C.... depi
34..0... ldo/ldi small
34190... ldi n,arg1
34180... ldi n,arg2
341C3FFF ldi -1,ret0
0A.0061. add,l
2B....00 addil
2C..10.. fldd
2C..1... fldd/fstd
2C..12.. fstd
24..10.. fldw
24..12.. fstw
53C..... ldd n(sp)
37DE0... ldo n(sp)
4BDF3... ldw -n(sp),r31
0C..10.. ldw short
0F..12.. stw short
0E..10.. ldw short
0F..10.. ldw short
34..3FF. ldo -n
`

// marksAlpha holds the marks of the Alpha family.
// From memory or seen in compiled code; to be checked against: Alpha Architecture Handbook.
const marksAlpha = `
6BFA8001         ret
47FF041F         nop
2FFE0000         unop
23DE....         lda sp,n(sp)
A75E0...         ldq ra,n(sp)
B75E0...         stq ra,n(sp)
A53E0...         ldq s0,n(sp)
B53E0...         stq s0,n(sp)
6B5B4...         jsr ra,(pv)
27BB....         ldah gp,n(pv)
27BA....         ldah gp,n(ra)
23BD....         lda gp,n(gp)
A77D....         ldq pv,n(gp)
47E.0400         mov n,v0
47E.041.         mov rN,aN
47FF0400         clr v0
47FF041.         clr aN
C3E0....         br forward
C3FF....         br backward
E400....         beq v0
F400....         bne v0
D34.....         bsr ra
D35F....         bsr ra backward
60004000         mb
A43D....         ldq t0,n(gp)
261D....         ldah a0,n(gp)
5...B40.         addt/su
5...B44.         mult/su
5...B42.         subt/su
5...B00.         adds/su
5...B04.         muls/su
5...140.         addt
5...144.         mult
4...064.         s8addq
4...044.         s4addq
4...040.         addq
4...052.         subq
4...05A.         cmpeq
4...0DA.         cmple
4...09A.         cmplt
4...03A.         cmpult
4...140.         addq n
4...152.         subq n
4...15A.         cmpeq n
4...1DA.         cmple n
43E.000.         sextl
8C..0...         ldt small
8D..0...         ldt small
9C..0...         stt small
9D..0...         stt small
88..0...         lds small
89..0...         lds small
98..0...         sts small
99..0...         sts small
221E....         lda a0,n(sp)
223E....         lda a1,n(sp)
225E....         lda a2,n(sp)
A5.E0...         ldq n(sp)
B5.E0...         stq n(sp)
A4.E0...         ldq n(sp)
B4.E0...         stq n(sp)
A6.E0...         ldq n(sp)
A7.E0...         ldq n(sp)
20..0001         lda 1
20..FFFF         lda -1
22..0001         lda 1
20..0008         lda 8
A4..0...         ldq small
A5..0...         ldq small
B4..0...         stq small
A0..0...         ldl small
B0..0...         stl small
2C..0000         ldq_u
2D..0000         ldq_u
F5..FF..         bne near
A77D....6B5B.... ldq pv ; jsr
27BA....23BD.... ldah gp ; lda gp
27BB....23BD.... ldah gp ; lda gp
23DE....B75E.... lda sp ; stq ra
23DE....6BFA8001 lda sp ; ret
2FFE000047FF041F unop ; nop
`
