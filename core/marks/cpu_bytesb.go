package marks

// marksZ80 holds the marks of the Z80 or 8080 family.
// From memory or seen in compiled code; to be checked against: Z80 CPU User's Manual.
const marksZ80 = `
C5D5E5           PUSH BC ; PUSH DE ; PUSH HL
E5D5C5           PUSH HL ; PUSH DE ; PUSH BC
F5C5D5           PUSH AF ; PUSH BC ; PUSH DE
E1D1C1           POP HL ; POP DE ; POP BC
C1D1E1           POP BC ; POP DE ; POP HL
D1C1F1           POP DE ; POP BC ; POP AF
E1C9             POP HL ; RET
C1C9             POP BC ; RET
D1C9             POP DE ; RET
F1C9             POP AF ; RET
AFC9             XOR A ; RET
37C9             SCF ; RET
EDB0             LDIR
ED52             SBC HL,DE
ED5B             LD DE,(nn)
ED4B             LD BC,(nn)
ED53             LD (nn),DE
ED43             LD (nn),BC
3E..D3           LD A,n ; OUT (n),A
D3..3E           OUT (n),A ; LD A,n
DB..E6           IN A,(n) ; AND n
FE..20           CP n ; JR NZ
FE..28           CP n ; JR Z
FE..38           CP n ; JR C
FE..30           CP n ; JR NC
FE..CA           CP n ; JP Z
FE..C2           CP n ; JP NZ
FE..DA           CP n ; JP C
FE..D2           CP n ; JP NC
E6..28           AND n ; JR Z
E6..20           AND n ; JR NZ
B728             OR A ; JR Z
B720             OR A ; JR NZ
B7C8             OR A ; RET Z
B7C0             OR A ; RET NZ
B7CA             OR A ; JP Z
B7C2             OR A ; JP NZ
7EFE             LD A,(HL) ; CP n
7E23             LD A,(HL) ; INC HL
2310F.           INC HL ; DJNZ
78B1             LD A,B ; OR C
7CB5             LD A,H ; OR L
7DB4             LD A,L ; OR H
7AB3             LD A,D ; OR E
DDE5             PUSH IX
DDE1             POP IX
DDE5DD21         PUSH IX ; LD IX
DDE1C9           POP IX ; RET
DD7E             LD A,(IX+d)
DD77             LD (IX+d),A
DD36             LD (IX+d),n
DD6E..DD66       LD L,(IX+d) ; LD H,(IX+d)
FD7E             LD A,(IY+d)
FD36             LD (IY+d),n
FDCB             bit op (IY+d)
DDCB             bit op (IX+d)
FDE5             PUSH IY
21....CD         LD HL,nn ; CALL
11....CD         LD DE,nn ; CALL
3E..CD           LD A,n ; CALL
CD....C9         CALL ; RET
CD....CD         CALL ; CALL
CD....38         CALL ; JR C
CD....D8         CALL ; RET C
32....C9         LD (nn),A ; RET
3A....B7         LD A,(nn) ; OR A
3A....FE         LD A,(nn) ; CP n
AF32             XOR A ; LD (nn),A
C921             RET ; LD HL,nn
C93E             RET ; LD A,n
C93A             RET ; LD A,(nn)
C9CD             RET ; CALL
5E2356           LD E,(HL) ; INC HL ; LD D,(HL)
7E2366           LD A,(HL);INC HL;LD H,(HL)
732372           LD (HL),E ; INC HL ; LD (HL),D
F8..5E2356       LD HL,SP+n ; LD E,(HL) ; INC HL ; LD D,(HL) (SM83)
F8..2A           LD HL,SP+n ; LD A,(HL+) (SM83)
F8..7E           LD HL,SP+n ; LD A,(HL) (SM83)
F8..36           LD HL,SP+n ; LD (HL),n (SM83)
F8..77           LD HL,SP+n ; LD (HL),A (SM83)
F8..70           LD HL,SP+n ; LD (HL),B (SM83)
F8..71           LD HL,SP+n ; LD (HL),C (SM83)
F8..73           LD HL,SP+n ; LD (HL),E (SM83)
F8..34           LD HL,SP+n ; INC (HL) (SM83)
F8..22           LD HL,SP+n ; LD (HL+),A (SM83)
E8..C9           ADD SP,n ; RET (SM83)
E8FE             ADD SP,-2 (SM83)
E8FC             ADD SP,-4 (SM83)
2A666F           LD A,(HL+) ; LD H,(HL) ; LD L,A (SM83)
2A46             LD A,(HL+) ; LD B,(HL) (SM83)
2A5F             LD A,(HL+) ; LD E,A (SM83)
2A56             LD A,(HL+) ; LD D,(HL) (SM83)
2A4F             LD A,(HL+) ; LD C,A (SM83)
2272             LD (HL+),A ; LD (HL),D (SM83)
2270             LD (HL+),A ; LD (HL),B (SM83)
3E..E0           LD A,n ; LDH (n),A (SM83)
F0..E6           LDH A,(n) ; AND n (SM83)
FA....FE         LD A,(nn) ; CP n (SM83)
FA....B7         LD A,(nn) ; OR A (SM83)
3E..EA           LD A,n ; LD (nn),A (SM83)
E11804           POP HL ; JR 4
DD4E..DD46       LD C,(IX+d) ; LD B,(IX+d)
DD5E..DD56       LD E,(IX+d) ; LD D,(IX+d)
DDE5DD210000DD39 PUSH IX ; LD IX,0 ; ADD IX,SP
DDF9DDE1         LD SP,IX ; POP IX
2100003922       LD HL,0 ; ADD HL,SP ; LD (nn),HL
CDD9C9           CALL ; EXX
EDB8             LDDR
ED5E             IM 2
ED4D             RETI
08D9             EX AF,AF' ; EXX
D908             EXX ; EX AF,AF'
22....C9         LD (nn),HL ; RET
2A....22         LD HL,(nn) ; LD (nn),HL
2A....E5         LD HL,(nn) ; PUSH HL
2A....23         LD HL,(nn) ; INC HL
21....22         LD HL,nn ; LD (nn),HL
EB22             EX DE,HL ; LD (nn),HL
2346             INC HL ; LD B,(HL)
4E2346           LD C,(HL) ; INC HL ; LD B,(HL)
712370           LD (HL),C ; INC HL ; LD (HL),B
C5CD             PUSH BC ; CALL
D5CD             PUSH DE ; CALL
E5CD             PUSH HL ; CALL
F5CD             PUSH AF ; CALL
CD....C1         CALL ; POP BC
CD....D1         CALL ; POP DE
CD....E1         CALL ; POP HL
CD....F1         CALL ; POP AF
CD....B7         CALL ; OR A
CD....DA         CALL ; JP C
CD....CA         CALL ; JP Z
CD....C2         CALL ; JP NZ
CD....FE         CALL ; CP n
CD....C3         CALL ; JP
CD....21         CALL ; LD HL,nn
CD....3E         CALL ; LD A,n
CD....2A         CALL ; LD HL,(nn)
CD....3A         CALL ; LD A,(nn)
C3....CD         JP ; CALL
C3....21         JP ; LD HL,nn
C3....3E         JP ; LD A,n
`
