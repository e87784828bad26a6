package marks

// marks6502 holds the marks of the 6502 family.
// From memory or seen in compiled code; to be checked against: MCS6500 Programming Manual.
const marks6502 = `
A9..8D   LDA #n ; STA abs
A9..85   LDA #n ; STA zp
8D....A9 STA abs ; LDA #n
85..A9   STA zp ; LDA #n
A5..85   LDA zp ; STA zp
A000B1   LDY #0 ; LDA (zp),Y
A000     LDY #0
A200     LDX #0
C9..D0   CMP #n ; BNE
C9..F0   CMP #n ; BEQ
C9..90   CMP #n ; BCC
C9..B0   CMP #n ; BCS
1865     CLC ; ADC zp
1869     CLC ; ADC #n
38E5     SEC ; SBC zp
38E9     SEC ; SBC #n
CAD0     DEX ; BNE
CA10     DEX ; BPL
88D0     DEY ; BNE
8810     DEY ; BPL
E8D0     INX ; BNE
C8D0     INY ; BNE
E8E0     INX ; CPX #n
C8C0     INY ; CPY #n
488A48   PHA ; TXA ; PHA
489848   PHA ; TYA ; PHA
68A868AA PLA ; TAY ; PLA ; TAX
E6..D0   INC zp ; BNE
B1..C8   LDA (zp),Y ; INY
C8B1     INY ; LDA (zp),Y
C891     INY ; STA (zp),Y
91..C8   STA (zp),Y ; INY
88B1     DEY ; LDA (zp),Y
4C....A9 JMP ; LDA #n
4C....20 JMP ; JSR
4C....A5 JMP ; LDA zp
20....4C JSR ; JMP
20....A9 JSR ; LDA #n
20....A5 JSR ; LDA zp
29..D0   AND #n ; BNE
29..F0   AND #n ; BEQ
A5..A6   LDA zp ; LDX zp
85..86   STA zp ; STX zp
86..60   STX zp ; RTS
85..60   STA zp ; RTS
8D....60 STA abs ; RTS
60A9     RTS ; LDA #n
60A5     RTS ; LDA zp
6020     RTS ; JSR
A5..18   LDA zp ; CLC
A5..38   LDA zp ; SEC
A2FF9A   LDX #FF ; TXS
20....A2 JSR ; LDX #n
20....A0 JSR ; LDY #n
20....85 JSR ; STA zp
A9..A2   LDA #n ; LDX #n
A2..A9   LDX #n ; LDA #n
A9..20   LDA #n ; JSR
A0..B1   LDY #n ; LDA (zp),Y
A0..20   LDY #n ; JSR
A200A9   LDX #0 ; LDA #n
B1..8D   LDA (zp),Y ; STA
B1..85   LDA (zp),Y ; STA zp
B1..F0   LDA (zp),Y ; BEQ
AD....8D LDA abs ; STA abs
AD....85 LDA abs ; STA zp
AD....29 LDA abs ; AND #n
AD....D0 LDA abs ; BNE
AD....F0 LDA abs ; BEQ
8D....AD STA abs ; LDA abs
8D....20 STA abs ; JSR
85..20   STA zp ; JSR
85..A5   STA zp ; LDA zp
A5..F0   LDA zp ; BEQ
A5..D0   LDA zp ; BNE
A5..20   LDA zp ; JSR
A5..C9   LDA zp ; CMP #n
A5..29   LDA zp ; AND #n
A5..69   LDA zp ; ADC #n
AD....C9 LDA abs ; CMP #n
BD....9D LDA abs,X ; STA abs,X
BD....8D LDA abs,X ; STA abs
BD....85 LDA abs,X ; STA zp
B9....99 LDA abs,Y ; STA abs,Y
9D....E8 STA abs,X ; INX
9D....CA STA abs,X ; DEX
18A5     CLC ; LDA zp
38A5     SEC ; LDA zp
65..85   ADC zp ; STA zp
69..85   ADC #n ; STA zp
E9..85   SBC #n ; STA zp
E5..85   SBC zp ; STA zp
09..8D   ORA #n ; STA abs
29..8D   AND #n ; STA abs
29..09   AND #n ; ORA #n
6085     RTS ; STA zp
60AD     RTS ; LDA abs
60A2     RTS ; LDX #n
60A0     RTS ; LDY #n
604C     RTS ; JMP
68A868   PLA ; TAY ; PLA
68AA68   PLA ; TAX ; PLA
4A4A4A   LSR ; LSR ; LSR
0A0A0A   ASL ; ASL ; ASL
4A4A4A4A four LSR
F0034C   BEQ +3 ; JMP
D0034C   BNE +3 ; JMP
90034C   BCC +3 ; JMP
`

// marks8051 holds the marks of the 8051 family.
// From memory or seen in compiled code; to be checked against: MCS-51 Family User's Manual.
const marks8051 = `
C0E0     PUSH ACC
D0E0     POP ACC
C082C083 PUSH DPL ; PUSH DPH
D083D082 POP DPH ; POP DPL
A3F0     INC DPTR ; MOVX @DPTR,A
A3E0     INC DPTR ; MOVX A,@DPTR
E0A3     MOVX A,@DPTR ; INC DPTR
F0A3     MOVX @DPTR,A ; INC DPTR
90....E0 MOV DPTR ; MOVX A
90....F0 MOV DPTR ; MOVX @DPTR
90....74 MOV DPTR ; MOV A,#n
90....E4 MOV DPTR ; CLR A
8582     MOV dir,DPL
8583     MOV dir,DPH
75F0     MOV B,#n
C395     CLR C ; SUBB A,dir
C394     CLR C ; SUBB A,#n
E493     CLR A ; MOVC A,@A+DPTR
E4F5     CLR A ; MOV dir,A
E4F0     CLR A ; MOVX @DPTR,A
7F..22   MOV R7,#n ; RET
E581     MOV A,SP
8124     SP ; ADD A,#n
A.82A.83 MOV Rn,DPL ; MOV Rn,DPH
A.83A.F0 MOV Rn,DPH ; MOV Rn,B
C2AF     CLR EA
D2AF     SETB EA
EF70     MOV A,R7 ; JNZ
EF60     MOV A,R7 ; JZ
FF22     MOV R7,A ; RET
C00.C00. PUSH ; PUSH
D00.D00. POP ; POP
E5..F5   MOV A,dir ; MOV dir,A
E5..24   MOV A,dir ; ADD A,#n
E5..F0   MOV A,dir ; MOVX @DPTR,A
AE..AF   MOV R6,dir ; MOV R7,dir
8E..8F   MOV dir,R6 ; MOV dir,R7
AD..AE   MOV R5,dir ; MOV R6,dir
EF4E     MOV A,R7 ; ORL A,R6
F582     MOV DPL,A
F583     MOV DPH,A
8F828E83 MOV DPL,R7 ; MOV DPH,R6
8E828F83 MOV DPL,R6 ; MOV DPH,R7
8D828E83 MOV DPL,R5 ; MOV DPH,R6
E0FE     MOVX A,@DPTR ; MOV R6,A
E0FF     MOVX A,@DPTR ; MOV R7,A
EEF0A3EF MOV A,R6 ; MOVX ; INC DPTR ; MOV A,R7
EFF0A3   MOV A,R7 ; MOVX ; INC DPTR
30E0     JNB ACC.0
30E7     JNB ACC.7
20E7     JB ACC.7
C39F     CLR C ; SUBB A,R7
C3E5     CLR C ; MOV A,dir
C3EF     CLR C ; MOV A,R7
3EFE     ADDC A,R6 ; MOV R6,A
E43E     CLR A ; ADDC A,R6
E43F     CLR A ; ADDC A,R7
8A828B83 MOV DPL,R2 ; MOV DPH,R3
8B828C83 MOV DPL,R3 ; MOV DPH,R4
AF82     MOV R7,DPL
AE83     MOV R6,DPH
AD82AE83 MOV R5,DPL ; MOV R6,DPH
8F8222   MOV DPL,R7 ; RET
758200   MOV DPL,#0
75830.   MOV DPH,#0n
22AF     RET ; MOV R7,dir
02....75 LJMP ; MOV dir,#n
75..0075 MOV dir,#0 ; MOV dir,#n
12....E5 LCALL ; MOV A,dir
12....12 LCALL ; LCALL
12....22 LCALL ; RET
12....75 LCALL ; MOV dir,#n
12....AF LCALL ; MOV R7,dir
12....AE LCALL ; MOV R6,DPH
12....90 LCALL ; MOV DPTR
75F00012 MOV B,#0 ; LCALL
D0D0D0E0 POP PSW ; POP ACC
C0E0C0D0 PUSH ACC ; PUSH PSW
D0D032   POP PSW ; RETI
D0E032   POP ACC ; RETI
B4..02   CJNE A,#n,+2
D8FE     DJNZ R0,.
80FE     SJMP .
`

// marks6800 holds the marks of the 6800 or 6809 family.
// From memory or seen in compiled code; to be checked against: M6800 Programming Reference Manual; MC6809 Programming Manual.
const marks6800 = `
3406     PSHS D
3410     PSHS X
3416     PSHS X,D
3446     PSHS U,D
3476     PSHS all
3586     PULS D,PC
3590     PULS X,PC
3596     PULS X,D,PC
35F6     PULS all,PC
3506     PULS D
3510     PULS X
108E     LDY #nn
10CE     LDS #nn
10AE     LDY
10AF     STY
10A3     CMPD
1083     CMPD #nn
A680     LDA ,X+
A780     STA ,X+
A6C0     LDA ,U+
A7A0     STA ,Y+
ED81     STD ,X++
EC81     LDD ,X++
8E....BF LDX #nn ; STX
8C....26 CMPX #nn ; BNE
1F8B     TFR A,DP
1F10     TFR X,D
1F98     TFR B,A
5A26     DECB ; BNE
4A26     DECA ; BNE
81..26   CMPA #n ; BNE
81..27   CMPA #n ; BEQ
C1..26   CMPB #n ; BNE
BD....39 JSR ; RTS
3934     RTS ; PSHS
3264     LEAS 4,S
3262     LEAS 2,S
16FF     LBRA backward
1027     LBEQ
CE....DF LDX #nn ; STX n
86..97   LDAA #n ; STAA n
86..B7   LDAA #n ; STAA nn
C6..D7   LDAB #n ; STAB n
96..81   LDAA n ; CMPA #n
DE..A6   LDX n ; LDAA n,X
0826     INX ; BNE
0926     DEX ; BNE
333239   PULB ; PULA ; RTS
3637     PSHA ; PSHB
4F97     CLRA ; STAA n
84..27   ANDA #n ; BEQ
84..26   ANDA #n ; BNE
85..27   BITA #n ; BEQ
85..26   BITA #n ; BNE
18CE     LDY #nn (68HC11)
3839     PULX ; RTS (68HC11)
183C     PSHY (68HC11)
BD....BD JSR ; JSR
BD....7E JSR ; JMP
7E....BD JMP ; JSR
39BD     RTS ; JSR
3986     RTS ; LDAA #n
39CE     RTS ; LDX #nn
`
