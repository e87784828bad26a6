package marks

// marks68000 holds the marks of the 68000 family.
// From memory or seen in compiled code; to be checked against: M68000 Family Programmer's Reference Manual.
const marks68000 = `
4E75         RTS
4E73         RTE
4E5E         UNLK A6
4E56         LINK A6,#d
48E7         MOVEM.L regs,-(A7)
4CDF         MOVEM.L (A7)+,regs
4EB9         JSR abs.L
4EBA         JSR d(PC)
4EAE         JSR d(A6)
4A80         TST.L D0
4A40         TST.W D0
2F0.         MOVE.L Rn,-(A7)
588F         ADDQ.L #4,A7
508F         ADDQ.L #8,A7
4FEF         LEA d(A7),A7
42A7         CLR.L -(A7)
4878         PEA abs.W
202E         MOVE.L d(A6),D0
206E         MOVEA.L d(A6),A0
4E5E4E75     UNLK A6 ; RTS
4E754E56     RTS ; LINK A6
4E7548E7     RTS ; MOVEM.L regs,-(A7)
4CDF....4E75 MOVEM.L (A7)+,regs ; RTS
2.5F4E75     MOVE.L (A7)+,Rn ; RTS
4EB900..     JSR 00xxxxxx
4EB900F.     JSR 00Fxxxxx (ROM)
4E56FF..     LINK A6,#-n
61FFFF..     BSR.L backward (68020)
61FF00..     BSR.L forward (68020)
4FEF00..     LEA n(A7),A7
4A806...     TST.L D0 ; Bcc
4A406...     TST.W D0 ; Bcc
4A006...     TST.B D0 ; Bcc
70..4E75     MOVEQ #n,D0 ; RTS
2F0.4EB.     MOVE.L Rn,-(A7) ; JSR
2F0.61FF     MOVE.L Rn,-(A7) ; BSR.L
588F4A80     ADDQ #4,A7 ; TST.L D0
4.F900..     LEA 00xxxxxx,An
2F3C00..     MOVE.L #00xxxxxx,-(A7)
202E00..     MOVE.L +n(A6),D0
202EFF..     MOVE.L -n(A6),D0
206E00..     MOVEA.L +n(A6),A0
4EAEFF..     JSR -n(A6)
51C8FF..     DBF D0,backward
51C9FF..     DBF D1,backward
13FC00..     MOVE.B #n,abs.L
4A8.6...     TST.L Dn ; Bcc
4A4.6...     TST.W Dn ; Bcc
4A0.6...     TST.B Dn ; Bcc
4A..6700     TST ; BEQ.W
4A..6600     TST ; BNE.W
4A806700     TST.L D0 ; BEQ.W
61..FFFF     BSR.L backward, near (68020)
61FFFFF.     BSR.L backward (68020)
60FFFFF.     BRA.L backward (68020)
2F..61FF     MOVE.L x,-(A7) ; BSR.L
2F0.2F0.     MOVE.L Rn,-(A7) ; MOVE.L Rm,-(A7)
2F2E00..     MOVE.L n(A6),-(A7)
2F2EFF..     MOVE.L -n(A6),-(A7)
2F2F00..     MOVE.L n(A7),-(A7)
202F00..     MOVE.L n(A7),D0
206F00..     MOVEA.L n(A7),A0
226F00..     MOVEA.L n(A7),A1
242F00..     MOVE.L n(A7),D2
246F00..     MOVEA.L n(A7),A2
2F4000..     MOVE.L D0,n(A7)
2D40FF..     MOVE.L D0,-n(A6)
2D48FF..     MOVE.L A0,-n(A6)
206EFF..     MOVEA.L -n(A6),A0
226EFF..     MOVEA.L -n(A6),A1
302E....     MOVE.W n(A6),D0
3D40FF..     MOVE.W D0,-n(A6)
48E7..38     MOVEM.L regs,-(A7)
48E7..30     MOVEM.L regs,-(A7)
48E7..20     MOVEM.L regs,-(A7)
4CDF..0C     MOVEM.L (A7)+,regs
4BFB0170     LEA (d32,PC),A5 (68020)
B28.6...     CMP.L An/Dn,D1 ; Bcc
B08.6...     CMP.L Rn,D0 ; Bcc
42AE....     CLR.L n(A6)
5289         ADDQ.L #1,A1
5288         ADDQ.L #1,A0
5280         ADDQ.L #1,D0
5380         SUBQ.L #1,D0
2040         MOVEA.L D0,A0
49C0         EXTB.L D0 (68020)
48C0         EXT.L D0
4840         SWAP D0
4EF900..     JMP 00xxxxxx
41FA....     LEA d(PC),A0
43FA....     LEA d(PC),A1
41F900..     LEA 00xxxxxx,A0
207900..     MOVEA.L 00xxxxxx,A0
203900..     MOVE.L 00xxxxxx,D0
23C000..     MOVE.L D0,00xxxxxx
33FC....     MOVE.W #n,abs.L
23FC....     MOVE.L #n,abs.L
4E75206F     RTS ; MOVEA.L n(A7),A0
4E75202F     RTS ; MOVE.L n(A7),D0
4E754FEF     RTS ; LEA n(A7),A7
4E752F0.     RTS ; MOVE.L Rn,-(A7)
4E714E71     NOP ; NOP
46FC2700     MOVE #2700,SR
4E5E4E74     UNLK A6 ; RTD
6100FF..     BSR.W backward
6100F...     BSR.W backward
6000FF..     BRA.W backward
F22E....     FPU load n(A6)
F22F....     FPU load n(A7)
F23C....     FPU #n
F200....     FPU register
F22754..     FPU push
F2275...     FPU push
F22E54..     FMOVE.D n(A6)
F22E74..     FMOVE.D to n(A6)
F201....     FPU
D1C0         ADDA.L D0,A0
D3C0         ADDA.L D0,A1
D080         ADD.L D0,D0
E588         LSL.L #2,D0
E589         LSL.L #2,D1
E788         LSL.L #3,D0
51C.FF..     DBF
22.870..     MOVE ; MOVEQ
4C000800     MULS.L (68020)
4C40....     DIVS.L (68020)
`

// marksH8 holds the marks of the H8 family.
// From memory or seen in compiled code; to be checked against: H8/300 and H8/300H Series Programming Manuals.
const marksH8 = `
5470         RTS
5670         RTE
6DF6         PUSH R6
6D76         POP R6
6DF.         PUSH Rn
6D7.         POP Rn
0D76         MOV.W R7,R6
6DF60D76     PUSH R6 ; MOV R7,R6
6D765470     POP R6 ; RTS
6D7.5470     POP Rn ; RTS
54706DF.     RTS ; PUSH Rn
6DF46DF5     PUSH R4 ; PUSH R5
6DF56DF6     PUSH R5 ; PUSH R6
6D756D74     POP R5 ; POP R4
5E000...     JSR @0xxx
5E00....     JSR @aa
5A00....     JMP @aa
01006DF.     PUSH.L ERn
01006D7.     POP.L ERn
01006D765470 POP.L ER6 ; RTS
7900....     MOV.W #n,R0
790.....     MOV.W #n,Rn
0D..5E00     MOV ; JSR
1D..4...     CMP ; Bcc
19001911     SUB R0 ; SUB R1
6F6.00..     MOV.W @(n,R6),Rn
6F6.FF..     MOV.W @(-n,R6),Rn
6FE.FF..     MOV.W Rn,@(-n,R6)
0B870...     ADDS ;
`

// marksS390 holds the marks of the S/390 family.
// From memory or seen in compiled code; to be checked against: ESA/390 and z/Architecture Principles of Operation.
const marksS390 = `
07FE         BR 14
07FE0707     BR 14 ; NOPR
90ECD00C     STM 14,12,12(13)
98ECD00C     LM 14,12,12(13)
0DE.         BASR 14,n
05EF         BALR 14,15
B9040...     LGR
C0E5....     BRASL 14
C0E5FFFF     BRASL 14,backward
C0E50000     BRASL 14,forward
A7F4....     J
A7840...     JE forward
A7740...     JNE forward
EB..F...0024 STMG n(15)
EB..F...0004 LMG n(15)
0004E3..     LG/LGFR ; E3xx
E3.0....0004 LG
E3.0....0024 STG
E3F0FF..FF71 LAY 15,-n(15)
000407FE     ...LMG ; BR 14
A7.9000.     LGHI n
A7.8000.     LHI n
A7.9FFFF     LGHI -1
C0.00000     LARL forward
C0.0FFFF     LARL backward
50..F0..     ST n(15)
58..F0..     L n(15)
5.E0D...     L 14
41.0F0..     LA n(15)
47F0....     B
18..18..     LR ; LR
B90200..     LTGR
A7280...     LHI r2
A7290...     LGHI r2
A7F4FF..     J backward
A7F400..     J forward
A78400..     JE, near
A77400..     JNE, near
A72400..     JH, near
A7.4FF..     Jcc backward
C0F4....     JG
C0F4FFFF     JG backward
C084000.     JGE
C0400000     LARL 4
C0200000     LARL 2
C0100000     LARL 1
C0E5000.     BRASL near
EB..F0..0024 STMG n(15)
EB..F0..0004 LMG n(15)
EBBFF...     STMG/LMG 11,15
EB6FF...     STMG/LMG 6,15
EBCFF...     STMG/LMG 12,15
E3..F0..0004 LG n(15)
E3..F0..0024 STG n(15)
E3..10.0000. LG n(1)
E3..20.0000. LG n(2)
E3..B...     RXY with base 11
B904002.     LGR 2
B9040032     LGR 3,2
B9140...     LGFR
B9820...     XGR
B9020...     LTGR
B90200..A7.4 LTGR ; Jcc
12..A7.4     LTR ; Jcc
EC......007E CIJ
EC......007C CGIJ
EC......0064 CGRJ
EC......0065 CLGRJ
95..A7.4     CLI tail ; Jcc
A7.B....     AGHI
A7FBFF..     AGHI 15,-n
A7FB00..     AGHI 15,n
07070707     NOPR ; NOPR
07F407FE     BR 4 ; BR 14
B24F....     EAR
EB3F0020     SLLG
EB..0020000D SLLG 32
41..F0..     LA n(15)
D2..F0..     MVC n(15)
5820....     L 2
05EF41..     BALR 14,15 ; LA
47.0C...     BC with base 12
47.0B...     BC with base 11
47F0C...     B with base 12
4110....     LA 1
58F0....     L 15
18.F58..     LR from 15 ; L
1BFF07FE     SR 15,15 ; BR 14
B31C00..     mdbr
B31A00..     adbr
B31B00..     sdbr
B31700..     meebr
B30A00..     aebr
68..F...     ld n(15)
60..F...     std n(15)
B3C100..     ldgr
B3CD00..     lgdr
ED......001. xxDB
ED......000. xxEB
E3....FF..71 LAY
E3......0004 LG
E3......0014 LGF
E3......0016 LLGF
E3......0090 LLGC
EB......000D SLLG
EB......006A ASI
EC......0055 RISBG
B90800..     AGR
B90900..     SGR
B91400..     LGFR
B91600..     LLGFR
C21F....     CLFI
C2.F....     CLFI
`
