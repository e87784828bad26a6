package chips

import (
	"errors"
	"strconv"
	"strings"

	"lunette/core/words"
)

// lampUnits are the units that lamps and meters print, in uW/cm2; the area may be left out.
var lampUnits = map[string]float64{"": 1, "uw": 1, "µw": 1, "μw": 1, "mw": 1000}

// Lamp returns the irradiance that a text names, in uW/cm2: "12000", "12,000 uW/cm2", "12 mW". A number alone is uW/cm2. An empty
// text is 0, which stands for the usual lamp. It fails when the text is no irradiance, or none of a lamp.
func Lamp(text string) (int, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, nil
	}
	digits := 0
	for digits < len(text) && (isDigit(text[digits]) || strings.IndexByte(".,'", text[digits]) >= 0) {
		digits++
	}
	unit := strings.ToLower(strings.ReplaceAll(text[digits:], " ", ""))
	for _, area := range []string{"/cm2", "/cm²", "/cm^2"} {
		unit = strings.TrimSuffix(unit, area)
	}
	factor, known := lampUnits[unit]
	number, read := lampNumber(text[:digits])
	if !known || !read {
		return 0, errors.New(words.Fill("the lamp's irradiance {} is no number of uW/cm2 or mW/cm2; write it as 12000 or as 12 mW, or leave "+
			"the field empty for the data sheets' {} uW/cm2", strconv.Quote(cutTo(text, 20)), words.Count(SheetLamp)))
	}
	irradiance := number * factor
	if irradiance >= minLamp && irradiance <= maxLamp {
		return int(irradiance + .5), nil
	}
	advice := "take it from the lamp's label or a UV-C meter, at the chip"
	if milli := number * 1000; unit == "" && milli >= minLamp && milli <= maxLamp {
		advice = words.Fill("if the lamp says mW/cm2, write {} mW", text)
	}
	return 0, errors.New(words.Fill("the lamp's irradiance is {}, expected {} to {} uW/cm2; {}", lampSaid(text[:digits], unit), words.Count(minLamp),
		words.Count(maxLamp), advice))
}

// lampNumber reads digits with a point before the fraction; commas and apostrophes stand between groups of three, and a
// comma with one or two digits behind it is a point.
func lampNumber(text string) (float64, bool) {
	if head, tail, found := strings.Cut(text, ","); found && len(tail) < 3 && !strings.Contains(head, ".") {
		text = head + "." + tail
	}
	text = strings.NewReplacer(",", "", "'", "").Replace(text)
	number, err := strconv.ParseFloat(text, 64)
	return number, err == nil && number < 1e9
}

func lampSaid(number, unit string) string {
	if unit == "mw" {
		return number + " mW/cm2"
	}
	return number + " uW/cm2"
}

// cutTo bounds what is quoted of an input, at a whole letter.
func cutTo(text string, most int) string {
	for i := range text {
		if i >= most {
			return text[:i]
		}
	}
	return text
}
