package main

// The picture of the ROM: an evening river seen through an arched window, in 1024 by 768 dots of black and white.
// All of it is whole-number arithmetic.
const (
	width, height = 1024, 768
	archX, archY  = 512, 400 // centre of the arch
	archRadius    = 300
	sill          = 690
	horizon       = 470
	moonX, moonY  = 610, 250
	moonRadius    = 46
)

func squareRoot(n int) int {
	root := 0
	for bit := 1 << 20; bit > 0; bit >>= 1 {
		if (root+bit)*(root+bit) <= n {
			root += bit
		}
	}
	return root
}

func distance(x, y int) int { return squareRoot(x*x + y*y) }

// grain is an even scatter of 0 to 255 that depends on the place only.
func grain(x, y int) int {
	n := uint32(x)*0x9E3779B1 ^ uint32(y)*0x85EBCA77
	n ^= n >> 15
	n *= 0x2C1B3C6D
	n ^= n >> 13
	return int(n >> 24)
}

// cloud is grain made smooth over squares of the given side, which is a power of two.
func cloud(x, y, side int) int {
	left, top := x/side, y/side
	u, v := x%side, y%side
	upper := grain(left, top)*(side-u) + grain(left+1, top)*u
	lower := grain(left, top+1)*(side-u) + grain(left+1, top+1)*u
	return (upper*(side-v) + lower*v) / (side * side)
}

// ridge is the height of a range of hills above the horizon at x.
func ridge(x, seed, tall int) int {
	rough := cloud(x+seed, seed, 256)*8 + cloud(x+seed, seed+9, 64)*3 + cloud(x+seed, seed+17, 16)
	return rough * tall / (12 * 255)
}

func sky(x, y int) int {
	light := 40 + y*170/horizon
	glow := 220 - distance(x-moonX, y-moonY)
	if glow > 0 {
		light += glow / 3
	}
	if distance(x-moonX, y-moonY) < moonRadius {
		return 255 - cloud(x, y, 16)/8
	}
	if light < 120 && grain(x, y) == 7 {
		return 255
	}
	return light + (cloud(x, y*3, 128)-128)/5
}

func hills(x, y int) (light int, found bool) {
	for i, tall := range [...]int{60, 120, 210} { // the nearest first
		if y > horizon-ridge(x, 1000*(3-i), tall) {
			return 25 + 45*i + grain(x/2, y/2)/9, true
		}
	}
	return 0, false
}

// river mirrors what stands above the horizon, broken by waves that grow towards the window.
func river(x, y int) int {
	depth := y - horizon
	sway := (cloud(x, depth*6, 32) - 128) * (depth + 8) / 300
	light := outdoors(x+sway, max(horizon-depth-2, 0)) * 3 / 4
	if cloud(x/2, depth*4, 16) > 170-max(60-max(x-moonX, moonX-x), 0) {
		light += 50
	}
	return light
}

func outdoors(x, y int) int {
	if y > horizon {
		return river(x, y)
	}
	if light, found := hills(x, y); found {
		return light
	}
	return sky(x, y)
}

// inWindow tells whether a place lies inside the arch drawn `inset` dots smaller.
func inWindow(x, y, inset int) bool {
	if y > archY {
		return x > archX-archRadius+inset && x < archX+archRadius-inset && y < sill-inset
	}
	return distance(x-archX, y-archY) < archRadius-inset
}

func onBar(x, y int) bool {
	half := 4
	if x > archX-half && x < archX+half || y > archY-half && y < archY+half {
		return true
	}
	if y < archY {
		r := distance(x-archX, y-archY)
		return r > 148-half && r < 148+half
	}
	return x > archX-150-half && x < archX-150+half || x > archX+150-half && x < archX+150+half
}

func wall(x, y int) int {
	course, step := y/32, 0
	if course%2 == 1 {
		step = 32
	}
	if y%32 < 2 || (x+step)%64 < 2 {
		return 62
	}
	light := 105 + cloud(x, y, 8)/6 + grain(x/3, y/3)/12 + grain((x+step)/64, course)/8
	return light - distance(x-archX, y-archY)/9
}

// shade is the light at a dot, 0 black to 255 white.
func shade(x, y int) int {
	switch {
	case inWindow(x, y, 26) && onBar(x, y):
		return 12
	case inWindow(x, y, 26):
		return outdoors(x, y)
	case inWindow(x, y, 18):
		return 20
	case inWindow(x, y, 0):
		return 190 - (x+y)/12
	case y >= sill && y < sill+22 && x > 160 && x < 864:
		return 215 - (y-sill)*4 + grain(x, y)/20
	}
	return wall(x, y)
}

// picture makes dots of the shades: what a dot is too dark or too light is passed on to its neighbours, every other row
// from right to left (the weights of Floyd and Steinberg, 1976). A set bit is a dark dot, leftmost dot in bit 7.
func picture() []byte {
	bits := make([]byte, width*height/8)
	owed, below := make([]int, width+2), make([]int, width+2)
	for y := range height {
		clear(below)
		for i := range width {
			x, ahead := i, 1
			if y%2 == 1 {
				x, ahead = width-1-i, -1
			}
			light := shade(x, y) + owed[x+1]/16
			rest := light
			if light >= 128 {
				rest -= 255
			} else {
				bits[(y*width+x)/8] |= 0x80 >> (x % 8)
			}
			owed[x+1+ahead] += rest * 7
			below[x+1-ahead] += rest * 3
			below[x+1] += rest * 5
			below[x+1+ahead] += rest
		}
		owed, below = below, owed
	}
	return bits
}

// logo draws an arched window of 96 by 112 dots with rays in its upper half.
func logo() []byte {
	const w, h, centreX, centreY, radius = 96, 112, 48, 50, 46
	bits := make([]byte, w*h/8)
	for y := range h {
		for x := range w {
			dx, dy := x-centreX, y-centreY
			r := distance(dx, dy)
			inside := r <= radius
			edge := r > radius-5
			bar := r > 20 && r <= 23 || dx*dx < 3 || (dx*dx-dy*dy)*(dx*dx-dy*dy) < 9*r*r
			if dy > 0 {
				inside = dx >= -radius && dx <= radius && dy < 60
				edge = dx < 5-radius || dx > radius-5 || dy > 54
				bar = dx*dx < 3 || dy < 4 || dy%18 < 2
			}
			if inside && (edge || bar) {
				bits[(y*w+x)/8] |= 0x80 >> (x % 8)
			}
		}
	}
	return bits
}
