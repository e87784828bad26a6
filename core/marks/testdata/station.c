/* Station: small routines of the invented Halden HX-16, compiled for several CPUs as samples for the test of CPU marks.
   README.txt says with which commands. */

typedef unsigned char byte;
typedef unsigned int word;

struct entry {
	byte kind;
	word size;
	struct entry *next;
	char name[12];
};

static byte screen[80];
static word cursor;
static struct entry *list;
static struct entry pool[16];
static byte used;
volatile byte port_status, port_data;

word text_length(const char *s)
{
	word n = 0;
	while (*s++)
		n++;
	return n;
}

int text_compare(const char *a, const char *b)
{
	while (*a && *a == *b) {
		a++;
		b++;
	}
	return (int)(byte)*a - (int)(byte)*b;
}

void copy_bytes(byte *to, const byte *from, word n)
{
	if (to < from) {
		while (n--)
			*to++ = *from++;
	} else {
		to += n;
		from += n;
		while (n--)
			*--to = *--from;
	}
}

void fill_bytes(byte *to, byte value, word n)
{
	while (n--)
		*to++ = value;
}

word sum_words(const byte *p, word n)
{
	word sum = 0;
	while (n > 1) {
		sum += (word)p[0] << 8 | p[1];
		p += 2;
		n -= 2;
	}
	return sum;
}

word crc_step(word crc, byte b)
{
	byte i;
	crc ^= (word)b << 8;
	for (i = 0; i < 8; i++) {
		if (crc & 0x8000)
			crc = crc << 1 ^ 0x1021;
		else
			crc <<= 1;
	}
	return crc;
}

word crc_bytes(const byte *p, word n)
{
	word crc = 0xFFFF;
	while (n--)
		crc = crc_step(crc, *p++);
	return crc;
}

void send_byte(byte b)
{
	while ((port_status & 2) == 0)
		;
	port_data = b;
}

byte receive_byte(void)
{
	while ((port_status & 1) == 0)
		;
	return port_data;
}

void send_text(const char *s)
{
	while (*s) {
		if (*s == '\n')
			send_byte('\r');
		send_byte(*s++);
	}
}

void send_number(word n)
{
	char digits[6];
	byte i = 0;
	do {
		digits[i++] = '0' + n % 10;
		n /= 10;
	} while (n);
	while (i)
		send_byte(digits[--i]);
}

void send_hex(word n)
{
	byte i;
	for (i = 0; i < 4; i++) {
		byte d = n >> 12 & 15;
		send_byte(d < 10 ? '0' + d : 'A' + d - 10);
		n <<= 4;
	}
}

struct entry *find_entry(const char *name)
{
	struct entry *e;
	for (e = list; e; e = e->next)
		if (text_compare(e->name, name) == 0)
			return e;
	return 0;
}

struct entry *add_entry(const char *name, byte kind, word size)
{
	struct entry *e = find_entry(name);
	byte i;
	if (e) {
		e->size += size;
		return e;
	}
	if (used >= 16)
		return 0;
	e = &pool[used++];
	for (i = 0; i < 11 && name[i]; i++)
		e->name[i] = name[i];
	e->name[i] = 0;
	e->kind = kind;
	e->size = size;
	e->next = list;
	list = e;
	return e;
}

void sort_entries(void)
{
	byte again;
	struct entry *e;
	do {
		again = 0;
		for (e = list; e && e->next; e = e->next) {
			struct entry *n = e->next;
			if (e->size > n->size) {
				word size = e->size;
				byte kind = e->kind;
				e->size = n->size;
				e->kind = n->kind;
				n->size = size;
				n->kind = kind;
				again = 1;
			}
		}
	} while (again);
}

void put_char(char c)
{
	if (c == '\n' || cursor >= 80) {
		send_text((const char *)screen);
		fill_bytes(screen, ' ', 80);
		cursor = 0;
		if (c == '\n')
			return;
	}
	screen[cursor++] = c;
}

void put_text(const char *s)
{
	while (*s)
		put_char(*s++);
}

int read_number(const char *s, word *value)
{
	word v = 0;
	if (*s < '0' || *s > '9')
		return -1;
	while (*s >= '0' && *s <= '9') {
		if (v > 6553)
			return -2;
		v = v * 10 + (*s++ - '0');
	}
	*value = v;
	return *s == 0 ? 0 : 1;
}

int run_command(const char *line)
{
	word a = 0;
	struct entry *e;
	switch (line[0]) {
	case 'l':
		for (e = list; e; e = e->next) {
			put_text(e->name);
			put_char(' ');
			send_number(e->size);
			put_char('\n');
		}
		return 0;
	case 's':
		sort_entries();
		return 0;
	case 'a':
		return read_number(line + 2, &a) ? -1 : add_entry("disk", 1, a) != 0;
	case 'c':
		if (read_number(line + 2, &a))
			return -1;
		send_hex(crc_bytes((const byte *)pool, a));
		return 0;
	case 'f':
		e = find_entry(line + 2);
		if (!e)
			return -3;
		send_hex(e->kind);
		send_hex(sum_words((const byte *)e->name, 12));
		return 0;
	}
	put_text("what?\n");
	return -4;
}

int main(void)
{
	char line[40];
	byte n = 0, b;
	used = 0;
	list = 0;
	fill_bytes(screen, ' ', 80);
	for (;;) {
		b = receive_byte();
		if (b == '\r') {
			line[n] = 0;
			if (run_command(line) < 0)
				put_text("error\n");
			n = 0;
		} else if (b == 8 && n > 0) {
			n--;
		} else if (n < 39) {
			line[n++] = b;
		}
	}
}
