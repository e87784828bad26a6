package marks

// marksPowerPC holds the marks of the PowerPC family.
// From memory or seen in compiled code; to be checked against: PowerPC User Instruction Set Architecture, Book I.
const marksPowerPC = `
4E800020         blr
7C0802A6         mflr r0
7C0803A6         mtlr r0
9421FF..         stwu r1,-n(r1)
900100..         stw r0,n(r1)
800100..         lwz r0,n(r1)
382100..         addi r1,r1,n
60000000         nop
38600000         li r3,0
38800000         li r4,0
4800....         b/bl forward
4BFF....         b/bl backward
4182....         beq
4082....         bne
2C0.0000         cmpwi rN,0
93.100..         stw rN,n(r1)
83.100..         lwz rN,n(r1)
BF.100..         stmw rN,n(r1)
BB.100..         lmw rN,n(r1)
7C0.0378         mr-form or
7C7.1B78         mr rN,r3
7F.3.B78         mr r3,rN
4E800420         bctr
4E800421         bctrl
7D.903A6         mtctr rN
3D.0....         lis rN
4C00012C         isync
7C0004AC         sync
44000002         sc
F821FF..         stdu r1,-n(r1)
E8010010         ld r0,16(r1)
F8010010         std r0,16(r1)
7C6.1B78         mr rN,r3 (low)
4200FF..         bdnz backward
419E....         beq cr7
409E....         bne cr7
419D....         bgt cr7
409D....         ble cr7
419C....         blt cr7
409C....         bge cr7
4181....         bgt
4081....         ble
7....214         add
7....050         subf
7....1D6         mullw
7....02E         lwzx
7....12E         stwx
7....0AE         lbzx
7....42E         lfsx
7....4AE         lfdx
7....52E         stfsx
7....5AE         stfdx
C8..00..         lfd
D8..00..         stfd
C0..00..         lfs
D0..00..         stfs
C9..00..         lfd
D9..00..         stfd
CB.1....         lfd n(r1)
DB.1....         stfd n(r1)
FC....3A         fmadd
EC....3A         fmadds
FD....3A         fmadd
ED....3A         fmadds
FC0....2         fmul
FC...02A         fadd
EC...02A         fadds
FC...028         fsub
FC..0090         fmr
5...103A         slwi 2
5...1838         slwi 3
5...063E         clrlwi 24
5...043E         clrlwi 16
7F8..000         cmpw cr7
7F8..040         cmplw cr7
2F8.....         cmpwi cr7
2B8.....         cmplwi cr7
38.100..         addi rN,r1,n
38.0000.         li rN,n
39.0000.         li rN,n
38.00001         li rN,1
39..0001         addi rN,rM,1
39..FFFF         addi rN,rM,-1
83C1....         lwz r30,n(r1)
93C1....         stw r30,n(r1)
83E1....         lwz r31,n(r1)
93E1....         stw r31,n(r1)
7D6903A64E800420 mtctr r11 ; bctr
4E80042060000000 bctr ; nop
81..0000         lwz rN,0
817E....         lwz r11,n(r30)
817E....7D6903A6 lwz r11,n(r30) ; mtctr r11
817F....7D6903A6 lwz r11,n(r31) ; mtctr r11
7D8903A64E800420 mtctr r12 ; bctr
7D8903A64E800421 mtctr r12 ; bctrl
2C0900004182.... cmpwi r9,0 ; beq
2C0900004082.... cmpwi r9,0 ; bne
2C0300004182.... cmpwi r3,0 ; beq
2C0300004082.... cmpwi r3,0 ; bne
7C0803A64E800020 mtlr r0 ; blr
382100..4E800020 addi r1,r1,n ; blr
9421FF..7C0802A6 stwu r1 ; mflr r0
9421....7C0802A6 stwu r1 ; mflr r0
`

// marksMIPS holds the marks of the MIPS family.
// From memory or seen in compiled code; to be checked against: MIPS32 Architecture for Programmers, Volume II.
const marksMIPS = `
03E00008         jr ra
27BDFF..         addiu sp,sp,-n
27BD00..         addiu sp,sp,+n
AFBF00..         sw ra,n(sp)
8FBF00..         lw ra,n(sp)
AFB.00..         sw sN,n(sp)
8FB.00..         lw sN,n(sp)
8FBC00..         lw gp,n(sp)
AFBC00..         sw gp,n(sp)
0320F809         jalr t9
8F99....         lw t9,d(gp)
0399E021         addu gp,gp,t9
2402000.         li v0,n
24020001         li v0,1
2402FFFF         li v0,-1
0C0.....         jal
1000....         b
1040....         beqz v0
1440....         bnez v0
3C0.8...         lui rN,8xxx
3C0.....         lui rN
00001021         move v0,zero
00..1021         addu v0
00..2021         addu a0
00..2025         or a0
00..1025         or v0
8E0.....         lw rN,d(s0)
03A0F02.         move fp,sp
24840...         addiu a0,a0,n
0..0.025         move
DFBF00..         ld ra,n(sp)
FFBF00..         sd ra,n(sp)
D4..00..         ldc1
F4..00..         sdc1
C4..00..         lwc1
E4..00..         swc1
D7..00..         ldc1
F7..00..         sdc1
462....0         add.d
462....2         mul.d
462....6         mov.d
460....2         mul.s
460....0         add.s
000...80         sll 2
000...C0         sll 3
00....2A         slt
00....2B         sltu
14..FF..         bne backward
1..0FF..         branch backward
24..0001         addiu 1
24..FFFF         addiu -1
24..0004         addiu 4
24..0008         addiu 8
8C..0000         lw 0
8C..0004         lw 4
8C..0008         lw 8
8E..0004         lw 4(sN)
AC..0000         sw 0
AC..0004         sw 4
AE..0004         sw 4(sN)
90..0000         lbu 0
A0..0000         sb 0
27A.00..         addiu rN,sp,n
AFA.00..         sw rN,n(sp)
8FA.00..         lw rN,n(sp)
AFB.....         sw sN
0220.025         move rN,s1
0200.025         move rN,s0
0240.025         move rN,s2
0260.025         move rN,s3
0411....         bal
14..0...         bne forward
3C1C....         lui gp
279C....         addiu gp,gp,n
DFB.00..         ld sN,n(sp)
FFB.00..         sd sN,n(sp)
00....21         addu
00....23         subu
00....2D         daddu
0000..12         mflo
8F99....0320F809 lw t9,d(gp) ; jalr t9
8F99....03200008 lw t9,d(gp) ; jr t9
0320F8090...     jalr t9 ; (slot)
27BD00..03E00008 addiu sp ; jr ra
03E0000827BD00.. jr ra ; (slot) addiu sp
3C1C....279C.... lui gp ; addiu gp
8FBF00..03E00008 lw ra ; jr ra
03E0000800...... jr ra ; (slot)
`

// marksSPARC holds the marks of the SPARC family.
// From memory or seen in compiled code; to be checked against: The SPARC Architecture Manual, Versions 8 and 9.
const marksSPARC = `
81C3E008         retl
81C7E008         ret
81CFE008         return %i7+8
81E80000         restore
01000000         nop
9DE3B...         save %sp,-n,%sp
4000....         call forward
7FFF....         call backward
80A06000         cmp %g1,0
80A22000         cmp %o0,0
80A.....         cmp
9010001.         mov %iN,%o0
9010200.         mov n,%o0
B0102000         mov 0,%i0
B010000.         mov %oN,%i0
82102...         mov n,%g1
1280000.         bne
0280000.         be
1080....         ba
9210001.         mov %iN,%o1
0300....         sethi %g1
1100....         sethi %o0
9410001.         mov %iN,%o2
1240000.         bne,pn
0240000.         be,pn
1268000.         bne,pt %xcc
0268000.         be,pt %xcc
0248000.         be,pt icc
94102...         mov n,%o2
92102...         mov n,%o1
92100...         mov rN,%o1
94100...         mov rN,%o2
96100...         mov rN,%o3
B0100...         mov rN,%i0
C207....         lduw [%fp+n]
D007....         lduw [%fp],%o0
C25F....         ldx [%fp],%g1
C277....         stx %g1,[%fp]
C227....         stw %g1,[%fp]
C25.....         ldx %g1
C27.....         stx %g1
C207A...         lduw [%fp+n],%g1
C227A...         stw %g1,[%fp+n]
F0.7A...         ld/st %i0,[%fp+n]
C2002...         lduw [%g0..]
C400....         lduw %g2
C200....         lduw %g1
C2006...         lduw [%g1+n],%g1
C2586...         ldx [%g1+n],%g1
D0002...         lduw %o0
C4586...         ldx [%g1+n],%g2
C6586...         ldx [%g1+n],%g3
106FF...         ba,pt %xcc backward
10680...         ba,pt %xcc
106F....         ba,pt backward
1048....         ba,pt %icc
02C.4...         brz
0AC.4...         brnz
0268....         be,pt %xcc
1268....         bne,pt %xcc
2268....         be,a,pt %xcc
3268....         bne,a,pt %xcc
0640....         bl,pn
1840....         bgu,pn
2240....         be,a,pn
3240....         bne,a,pn
80A04...         cmp %g1,r
80A0400.         cmp %g1,%gN
80A0600.         cmp %g1,n
80A0A00.         cmp %g2,n
80A6....         cmp %iN
80A620..         cmp %i0,n
80A220..         cmp %o0,n
9DE3BF..         save %sp,-n
9DE3BE..         save %sp,-n
9C03A...         add %sp,n
B1382000         sra %g0..%i0
91382000         sra %g0..%o0
8130....         srl
833....0         shift to %g1
8328....         sllx %g1
82006...         add %g1,n,%g1
86006...         add %g1,n,%g3
6E05....         xor/or %l7 (PIC)
AE05....         add %l7
83C06000         jmpl
81C3E00.         retl
81C04...         jmp %g1
9FC04...         jmpl %g1,%o7
9FC0....         call through register
D05D....         ldx [%l7+rN],%o0
C25DC...         ldx [%l7+rN],%g1
C205C...         lduw [%l7+rN],%g1
D205C...         lduw [%l7+rN],%o1
8.A..84.         faddd
9.A..84.         faddd
8.A..92.         fmuld
9.A..92.         fmuld
8.A..93.         fmuld
9.A..93.         fmuld
A.A..93.         fmuld
8.A..82.         fadds
9.A..82.         fadds
8.A..9A.         fmuls
9.A..9A.         fmuls
C.1.2...         ldd float
D.1.2...         ldd float
E.1.2...         ldd float
C.3.2...         std float
D.3.2...         std float
9.02.00.         add r,r,%oN
8.00.00.         add r,r,%gN
8.02.00.         add r,r
9.00.00.         add r,r
8.2.7003         sllx 3
8.2.7002         sllx 2
9.2.7003         sllx 3
9.2.7002         sllx 2
8.2.3002         sllx 2
8.2.3003         sllx 3
8.2.7020         sllx 32
8.3.2000         sra 0
9.3.2000         sra 0
B.3.2000         sra 0
F.5FA...         ldx [%fp+n]
E.5FA...         ldx [%fp+n]
F.77A...         stx [%fp+n]
E.77A...         stx [%fp+n]
C.5FA...         ldx [%fp+n]
C.77A...         stx [%fp+n]
D.5FA...         ldx [%fp+n]
D.77A...         stx [%fp+n]
D.5BA...         ldx [%sp+n]
E.5BA...         ldx [%sp+n]
C.5BA...         ldx [%sp+n]
C.07A...         lduw [%fp+n]
C.27A...         stw [%fp+n]
D.07A...         lduw [%fp+n]
D.27A...         stw [%fp+n]
E.07A...         lduw [%fp+n]
F.07A...         lduw [%fp+n]
81C7E00881E8.... ret ; (slot) restore
81CFE0089010.... return ; (slot) mov
81CFE00801000000 return ; nop
9DE3B...01000000 save ; nop
9DE3BF..0300.... save ; sethi %g1
400.....01000000 call ; nop
7FF.....01000000 call back ; nop
80A06000024..... cmp %g1,0 ; be
80A06000124..... cmp %g1,0 ; bne
80A22000024..... cmp %o0,0 ; be
80A22000124..... cmp %o0,0 ; bne
`
