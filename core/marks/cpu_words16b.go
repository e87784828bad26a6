package marks

// marksSuperH holds the marks of the SuperH family.
// From memory or seen in compiled code; to be checked against: SuperH RISC Engine SH-1/SH-2/SH-4 Programming Manual.
const marksSuperH = `
000B     RTS
0009     NOP
4F22     STS.L PR,@-R15
4F26     LDS.L @R15+,PR
2FE6     MOV.L R14,@-R15
6EF6     MOV.L @R15+,R14
2F.6     MOV.L Rn,@-R15
6.F6     MOV.L @R15+,Rn
4.0B     JSR @Rn
6FE3     MOV R14,R15
000B0009 RTS ; NOP
000B6.F6 RTS ; (slot) pop Rn
000BE0.. RTS ; (slot) MOV #n,R0
000B60.3 RTS ; (slot) MOV Rn,R0
2F.64F22 push ; STS.L PR
4F227F.. STS.L PR ; ADD #-n,R15
7F..4F26 ADD #n,R15 ; LDS.L PR
4F266.F6 LDS.L PR ; pop
4F26000B LDS.L PR ; RTS
6EF66DF6 pop R14 ; pop R13
6CF66BF6 pop R12 ; pop R11
6BF66AF6 pop R11 ; pop R10
2FB62FC6 push R11 ; push R12
2FC62FD6 push R12 ; push R13
2FA62FB6 push R10 ; push R11
2FD62FE6 push R13 ; push R14
2FE64F22 push R14 ; STS.L PR
4.0B0009 JSR ; NOP
4.0B6..3 JSR ; (slot) MOV
4.0B64.3 JSR ; (slot) MOV Rn,R4
D...4.0B MOV.L @(d,PC),Rn ; JSR @Rn
2..88B.. TST ; BF
2..88901 TST ; BT
000B68F6 RTS ; (slot) pop R8
000B69F6 RTS ; (slot) pop R9
000B6AF6 RTS ; (slot) pop R10
69F6000B pop R9 ; RTS
6EF6000B pop R14 ; RTS
6AF669F6 pop R10 ; pop R9
69F668F6 pop R9 ; pop R8
6DF66CF6 pop R13 ; pop R12
2F86C7.. push R8 ; MOVA
2F862F96 push R8 ; push R9
2F962FA6 push R9 ; push R10
C7..2F96 MOVA ; push R9
C7..DC.. MOVA @(d,PC),R0 ; MOV.L @(d,PC),R12
3C0C     ADD R0,R12
0..30009 BSRF Rn ; NOP
0.0364.. BSRF Rn ; (slot) MOV to R4
D1..0103 MOV.L @(d,PC),R1 ; BSRF R1
D0..0003 MOV.L @(d,PC),R0 ; BSRF R0
D1..410B MOV.L @(d,PC),R1 ; JSR @R1
D0..400B MOV.L @(d,PC),R0 ; JSR @R0
2..88D.. TST ; BT/S
2..88F.. TST ; BF/S
2..889.. TST ; BT
2008     TST R0,R0
20088B.. TST R0,R0 ; BF
200889.. TST R0,R0 ; BT
20088D.. TST R0,R0 ; BT/S
64E3     MOV R14,R4
65E3     MOV R14,R5
6.8364.3 MOV R8,Rn ; MOV Rm,R4
8.018B.. MOV ; BF
3..08B.. CMP/EQ ; BF
3..28B.. CMP/HS ; BF
3..68B.. CMP/HI ; BF
88..8B.. CMP/EQ #n,R0 ; BF
88..89.. CMP/EQ #n,R0 ; BT
88..8D.. CMP/EQ #n,R0 ; BT/S
4.118B.. CMP/PZ ; BF
4.158B.. CMP/PL ; BF
4.108B.. DT ; BF
4.108F.. DT ; BF/S
0009E... NOP ; MOV #n
A...0009 BRA ; NOP
7FFC     ADD #-4,R15
7F04     ADD #4,R15
6.F27F04 MOV.L @R15,Rn ; ADD #4,R15
6..C3..0 EXTU.B ; CMP/EQ
2F364F22 push R3 ; STS.L PR
F..9F..9 FMOV.S @Rm+ ; FMOV.S @Rm+
F..8F..8 FMOV.S @Rm ; FMOV.S @Rm
F..AF..A FMOV.S ; FMOV.S
F..CF..C FMOV ; FMOV
F..2F..0 FMUL ; FADD
FBFD     FRCHG
F..B7... FMOV.S Rm,@-Rn ; ADD
60134019 MOV R1,R0 ; SHLR8 R0
4.1980.. SHLR8 ; MOV.B R0,@(d,Rn)
4.2980.. SHLR16 ; MOV.B R0,@(d,Rn)
4.0180.. SHLR ; MOV.B R0,@(d,Rn)
2..B80.. OR ; MOV.B R0,@(d,Rn)
C9..2..B AND #n ; OR
E...4..D MOV #n ; SHLD
E...4..C MOV #n ; SHAD
4.1820.B SHLL8 ; OR
4.194.01 SHLR8 ; SHLR
4.184.08 SHLL8 ; SHLL2
4.284.18 SHLL16 ; SHLL8
4.294.01 SHLR16 ; SHLR
000B80.. RTS ; (slot) MOV.B R0,@(d,Rn)
84..E... MOV.B @(d,Rm),R0 ; MOV #n
84..600C MOV.B @(d,Rm),R0 ; EXTU.B
80..6..3 MOV.B R0,@(d,Rn) ; MOV
6..0600C MOV.B @Rm,Rn ; EXTU.B
6..C4.18 EXTU.B ; SHLL8
`

// marksThumb holds the marks of the Thumb family.
// From memory or seen in compiled code; to be checked against: ARM Architecture Reference Manual, Thumb instructions.
const marksThumb = `
4770     bx lr
46C0     nop (mov r8,r8)
BF00     nop
B5.0     push {..,lr}
BD.0     pop {..,pc}
B510     push {r4,lr}
BD10     pop {r4,pc}
B5F0     push {r4-r7,lr}
BDF0     pop {r4-r7,pc}
2800     cmp r0,#0
2B00     cmp r3,#0
2300     movs r3,#0
E8BD8... ldmia sp!,{..pc}
E92D4... stmdb sp!,{..lr}
F000F8.. bl near forward
F000F... bl/b.w forward
F7FFF... bl backward
2800D... cmp r0,#0 ; bcc
2B00D... cmp r3,#0 ; bcc
2A00D... cmp r2,#0 ; bcc
BD..B5.. pop {pc} ; push {lr}
4770B5.. bx lr ; push {lr}
46..F7FF mov ; bl
4620F... mov r0,r4 ; bl
47702... bx lr ; movs
B5..B08. push ; sub sp
B00.BD.. add sp ; pop {pc}
447.68.. add rN,pc ; ldr
F04F0... mov.w rN,#n
F8DF.... ldr.w rN,[pc]
BD..BF00 pop {pc} ; nop
4770BF00 bx lr ; nop
E8BD8FF0 pop.w {r4-r11,pc}
E92D4FF0 push.w {r4-r11,lr}
E92D47F0 push.w {r4-r10,lr}
E8BD87F0 pop.w {r4-r10,pc}
E8BD83F8 pop.w {r3-r9,pc}
E92D43F8 push.w {r3-r9,lr}
F8D..... ldr.w rN,[rM,#n]
F8C..... str.w rN,[rM,#n]
F8DD.0.. ldr.w rN,[sp,#n]
F8CD.0.. str.w rN,[sp,#n]
F0008... bcc.w forward
F43FA... beq.w backward
F47FA... bne.w backward
F43FAF.. beq.w backward, near
F47FAF.. bne.w backward, near
F7F.E... blx backward
F7F.F... bl backward
F7FFFF.. bl backward, near
F7FFFE.. bl backward, near
F1B.0F.. cmp.w rN,#n
F1BB0F00 cmp.w r11,#0
F1B80F00 cmp.w r8,#0
F1B90F00 cmp.w r9,#0
F10.0... add.w rN,rM,#n
F1A.0... sub.w rN,rM,#n
EB0.0... add.w rN,rM,rK
F2C..... movt rN,#n
F240.... movw rN,#0nnn
2.00D0.. cmp ; beq
2.00D1.. cmp ; bne
460.F... mov r,r0 ; bl
461.F... mov r,r2/r3 ; bl
46054604 mov r5,r0 ; mov r4,r0
4605460C mov r5,r0 ; mov r4,r1
4606460D mov r6,r0 ; mov r5,r1
4620BD.. mov r0,r4 ; pop {pc}
2000BD.. movs r0,#0 ; pop {pc}
2000E... movs r0,#0 ; b
20004770 movs r0,#0 ; bx lr
B57046.. push {r4-r6,lr} ; mov
B5F8.... push {r3-r7,lr}
B5104604 push {r4,lr} ; mov r4,r0
B5700... push {r4-r6,lr} ; movs
B08.46.. sub sp ; mov
BF18.... it ne
BF08.... it eq
BF184... it ne ; op
B11...46 cbz ; mov
68.368.. ldr ; ldr
681B.... ldr r3,[r3]
602368.. str r3,[r4] ; ldr
4798.... blx r3
E7FE.... b .
E7..BF00 b ; nop
E7..46.. b back ; mov
ED9..A.. vldr single
ED9..B.. vldr double
EDD..A.. vldr single
EDD..B.. vldr double
ED8..A.. vstr single
ED8..B.. vstr double
ED2D8B.. vpush {d8..}
ECBD8B.. vpop {d8..}
EE2..B.. vmul double
EE3..B.. vadd double
EE2..A.. vmul single
EE6..A.. vmul single
EE7..A.. vadd single
EEF1FA10 vmrs
EB0..0.. add.w
FB0..... mul/mla
FB0.F.0. mul
F850.02. ldr.w rN,[r0,rM,lsl #2]
F85..02. ldr.w rN,[rM,rK,lsl #2]
F84..02. str.w rN,[rM,rK,lsl #2]
F85..B.. ldr.w post-indexed
F84..B.. str.w post-indexed
E9D..... ldrd
E9CD.... strd rN,rM,[sp]
E9DD.... ldrd rN,rM,[sp]
`

// marksAVR holds the marks of the AVR family.
// From memory or seen in compiled code; to be checked against: AVR Instruction Set Manual.
const marksAVR = `
9508     RET
9518     RETI
940E     CALL
940C     JMP
93CF     PUSH r28
93DF     PUSH r29
91CF     POP r28
91DF     POP r29
93.F     PUSH
93CF93DF PUSH r28 ; PUSH r29
91DF91CF POP r29 ; POP r28
91CF9508 POP r28 ; RET
9.CF9508 POP ; RET
B7CDB7DE IN r28,SPL ; IN r29,SPH
B60F94F8 IN r0,SREG ; CLI
94F8BFDE CLI ; OUT SPH
940E0... CALL 0xxx
940C0... JMP 0xxx
1F..1F.. ADC ; ADC
0F..1F.. ADD ; ADC
0F881F99 LSL r24 ; ROL r25
E0..E0.. LDI ; LDI
23..F0.. TST ; BRcc
23..F4.. TST ; BRcc
50..40.. SUBI ; SBCI
4...4F.. SBCI ; SBCI
95.695.7 LSR/ASR ; ROR
2.889508 x ; RET
E0..9508 LDI ; RET
1D..1D.. ADC ; ADC
1F..0F.. ADC ; ADD
2F..2F.. MOV ; MOV
1B..0B.. SUB ; SBC
17..07.. CP ; CPC
96..2D.. ADIW ; MOV
90.F90.F POP ; POP
92.F92.F PUSH ; PUSH
93.F93.F PUSH ; PUSH
91.F91.F POP ; POP
90.F9508 POP ; RET
91.F9508 POP ; RET
CF..940. RJMP backward ; CALL
2.002.11 CLR ; CLR
27..27.. CLR ; CLR
1BAA1BBB SUB r26 ; SUB r27
F7..9508 BRcc backward ; RET
F4..9508 BRcc ; RET
F0..9508 BRcc ; RET
2FE.2FF. MOV r30 ; MOV r31
01F.8... MOVW r30 ; LDD
01F.9... MOVW r30 ; LD
94.295.7 LSR/SWAP ; ROR
0C..1C.. ADD ; ADC (low)
1C..1C.. ADC ; ADC (low)
F7E.F7E. BRNE ; BRNE
B7.FB7.F IN SREG
BE0F.... OUT SREG,r0
2411BE1F CLR r1 ; OUT SREG,r1
`
