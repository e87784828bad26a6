| tables.s: what the packer draws and computes before the compiler runs (pack/tables.go, font.go, picture.go).

	.section .font, "a"
	.global	font
font:	.incbin	"font.bin"

	.section .tables, "a"
	.balign	4
	.global	crc32_table, crc16_table, sine_table, gamma_table, spread_table, logo
crc32_table:	.incbin	"crc32.bin"
crc16_table:	.incbin	"crc16.bin"
sine_table:	.incbin	"sine.bin"
	.balign	4
gamma_table:	.incbin	"gamma.bin"
spread_table:	.incbin	"spread.bin"
logo:	.incbin	"logo.bin"

	.section .manual, "a"
	.global	manual_text, manual_end
manual_text:	.incbin	"manual.txt"
manual_end:	.byte	0

	.section .packed, "a"
	.balign	4
	.global	picture
picture:	.incbin	"picture.hxp"
