package marks

// marksX86 holds the marks of the x86 family.
// From memory or seen in compiled code; to be checked against: 8086 Family User's Manual; 80386 Programmer's Reference Manual; 64-bit Software Developer's Manual.
const marksX86 = `
558BEC       PUSH BP ; MOV BP,SP
5589E5       PUSH BP ; MOV BP,SP
8BE55DC.     MOV SP,BP ; POP BP ; RET
89EC5DC3     MOV SP,BP ; POP BP ; RET
5DC3         POP BP ; RET
5DC20.00     POP BP ; RET n
C9C3         LEAVE ; RET
5F5DC3       POP DI ; POP BP ; RET
E8....FFFF   CALL backward (32-bit)
E8....0000   CALL forward (32-bit)
83C40.       ADD SP,n
83C41.       ADD SP,n
83EC..       SUB SP,n
85C074       TEST AX ; JZ
85C075       TEST AX ; JNZ
85C00F8.     TEST EAX ; Jcc near
0AC074       OR AL,AL ; JZ
0AC075       OR AL,AL ; JNZ
84C074       TEST AL ; JZ
84C075       TEST AL ; JNZ
0F84....0000 JE near
0F85....0000 JNE near
8B4424       MOV EAX,[ESP+n]
894424       MOV [ESP+n],EAX
8B46         MOV AX,[BP+n]
8946         MOV [BP+n],AX
8B45         MOV EAX,[EBP+n]
8945         MOV [EBP+n],EAX
CD21         INT 21h
CD10         INT 10h
CD13         INT 13h
3C..74       CMP AL,n ; JZ
3C..75       CMP AL,n ; JNZ
80F...74     CMP r8,n ; JZ
80F...75     CMP r8,n ; JNZ
B0..E6       MOV AL,n ; OUT port
E4..A8       IN AL ; TEST AL
E4..24       IN AL ; AND AL
BA..0.EC     MOV DX,0nnn ; IN AL,DX
BA..0.EE     MOV DX,0nnn ; OUT DX,AL
BA..03B.     MOV DX,3xx ; MOV r,n
F3A4         REP MOVSB
F3A5         REP MOVSW
F3AB         REP STOSW
8ED8         MOV DS,AX
8EC0         MOV ES,AX
8CC8         MOV AX,CS
1E06         PUSH DS ; PUSH ES
071F         POP ES ; POP DS
5A595B       POP DX ; POP CX ; POP BX
535152       PUSH BX ; PUSH CX ; PUSH DX
505351       PUSH AX ; PUSH BX ; PUSH CX
31C0         XOR AX,AX
33C0         XOR AX,AX
6683         66-prefix ADD/CMP
6689         66-prefix MOV
668B         66-prefix MOV
488B         REX MOV
4889         REX MOV
4883         REX ADD/SUB
488D         REX LEA
0F1F8.00     NOP d(R) padding
0F1F4.00     NOP n(R) padding
0F1F84..00   NOP 0(R,R) padding
1F44..00     NOP 0(R,R) padding, tail
662E0F1F     NOP CS: padding
6690         NOP, two bytes
8DB426       LEA SI,0(SI) padding
8D7426       LEA SI,0(SI) padding
8D7600       LEA SI,0(SI) padding
8D..2600     LEA padding
83C410       ADD SP,16
83EC0C       SUB SP,12
83EC08       SUB SP,8
5B5E5F       POP BX ; POP SI ; POP DI
5D415C       POP RBP ; POP R12
415C415D     POP R12 ; POP R13
415D415E     POP R13 ; POP R14
415E415F     POP R14 ; POP R15
41574156     PUSH R15 ; PUSH R14
41554154     PUSH R13 ; PUSH R12
5553         PUSH BP ; PUSH BX
4885C07.     TEST RAX ; Jcc
4885C00F8.   TEST RAX ; Jcc near
4883C4       ADD RSP,n
4883EC       SUB RSP,n
4989         REX MOV
4C89         REX MOV
4C8B         REX MOV
488B4424     MOV RAX,n(RSP)
488944       MOV n(R),RAX
48894424     MOV n(RSP),RAX
488D05       LEA RAX,n(RIP)
488D3D       LEA RDI,n(RIP)
488D15       LEA RDX,n(RIP)
488B05       MOV RAX,n(RIP)
E9....FFFF   JMP backward (32-bit)
E9....0000   JMP forward (32-bit)
64488B0425   MOV RAX,FS:nn
C74424       MOV n(SP),#nn
8B5424       MOV EDX,n(SP)
8B4C24       MOV ECX,n(SP)
8B7424       MOV ESI,n(SP)
8B5C24       MOV EBX,n(SP)
FF7424       PUSH n(SP)
FF75         PUSH n(BP)
5DC355       POP BP ; RET ; PUSH BP
C35589       RET ; PUSH BP ; MOV BP,SP
C3558B       RET ; PUSH BP ; MOV BP,SP
FF7604       PUSH 4(BP)
FF760.       PUSH n(BP)
8B5E..8B     MOV BX,n(BP) ; MOV
8B5E..8A     MOV BX,n(BP) ; MOV byte
5589E55756   PUSH BP ; MOV BP,SP ; PUSH DI ; PUSH SI
E8..FF83C4   CALL backward ; ADD SP,n
E8..0083C4   CALL forward ; ADD SP,n
268B         MOV R,ES:(R)
2689         MOV ES:(R),R
268A         MOV R,ES:(R) byte
2E8B         MOV R,CS:(R)
8B46..8B56   MOV AX,n(BP) ; MOV DX,n(BP)
C45E         LES BX,n(BP)
CB55         RETF ; PUSH BP
5DCB         POP BP ; RETF
3D..007.     CMP AX,00nn ; Jcc
83F8..7.     CMP AX,n ; Jcc
0BC07.       OR AX,AX ; Jcc
0BC9         OR CX,CX
8BEC83EC     MOV BP,SP ; SUB SP,n
558BEC83EC   PUSH BP ; MOV BP,SP ; SUB SP,n
E461         IN AL,61h
E6..EB00     OUT ; JMP short (delay)
F60...7.     TEST n8 ; Jcc
A80.7.       TEST AL,n ; Jcc
EEC3         OUT DX,AL ; RET
FAFC         CLI ; CLD
FBC3         STI ; RET
5A595BC3     POP DX ; POP CX ; POP BX ; RET
595BC3       POP CX ; POP BX ; RET
1FC3         POP DS ; RET
07C3         POP ES ; RET
F9C3         STC ; RET
F8C3         CLC ; RET
8CD88E       MOV AX,DS ; MOV seg
33DB         XOR BX,BX
33D2         XOR DX,DX
33F6         XOR SI,SI
33FF         XOR DI,DI
31D2         XOR DX,DX
31F6         XOR SI,SI
31DB         XOR BX,BX
31ED         XOR BP,BP
F20F10       MOVSD load
F20F11       MOVSD store
F30F10       MOVSS load
F30F11       MOVSS store
F20F59       MULSD
F20F58       ADDSD
F30F59       MULSS
F30F58       ADDSS
660F28       MOVAPD
660F6F       MOVDQA load
660F7F       MOVDQA store
F30F6F       MOVDQU
F30F7E       MOVQ
660FD6       MOVQ store
660FEF       PXOR
660F6E       MOVD
0F284.       MOVAPS load
0F294.       MOVAPS store
0F114.       MOVUPS store
0F104.       MOVUPS load
C5FB10       VMOVSD
C5FB11       VMOVSD store
C5FB59       VMULSD
C5FB58       VADDSD
C5FA10       VMOVSS
C5F857       VXORPS
C5FC10       VMOVUPS
C5FC11       VMOVUPS store
C5FD28       VMOVAPD
C4E2         VEX 3-byte
C5F877       VZEROUPPER
D94424       FLD n(SP)
DD4424       FLD n(SP) double
D95C24       FSTP n(SP)
DD5C24       FSTP n(SP) double
DEC9         FMULP
DEC1         FADDP
D9C9         FXCH
DDD8         FSTP ST0
DDD9         FSTP ST1
DFE09E       FNSTSW AX ; SAHF
D9EE         FLDZ
DD00         FLD double
4901         REX ADD
4C01         REX ADD
4C03         REX ADD
4D8D         REX LEA
498D         REX LEA
4C8D         REX LEA
4C39         REX CMP
4939         REX CMP
4429         REX SUB
480FAF       IMUL
4C0FAF       IMUL
48C1E0       SHL RAX
48C1E.       SHL REX
4863         MOVSXD
4C63         MOVSXD
`
