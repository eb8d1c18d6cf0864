package materials_test

import (
	"fmt"

	"setover/setup/book/materials"
)

func ExampleFind() {
	m, err := materials.Find("mild steel")
	if err != nil {
		fmt.Println(err)
		return
	}
	v, _ := m.CuttingSpeed("turn", "hss")
	fmt.Printf("%s: %.1f %s (%s, %s)\n", m.Title, v.Chosen, v.Unit, v.Printed, v.Source)
	// Output: Low-carbon steel: 30.5 m/min (100 to 250 ft/min, lab-sheet)
}
