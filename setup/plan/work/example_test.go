package work_test

import (
	"encoding/json"
	"fmt"

	"setover/setup/maker/part"
	"setover/setup/plan/work"
)

// A bar of 20 is faced, and turned to 16 over the first 20 of it.
func ExampleState_After() {
	bar := work.Bar(60*work.MM, work.Span{From: -work.MM, To: 61 * work.MM}, 20*work.MM, 0, 0)
	after := bar.After(
		work.EndCut{End: part.Left, Z: 0},
		work.Turned(work.Span{From: 0, To: 20 * work.MM}, 16*work.MM, work.Finished),
	)
	for _, p := range after.Outside {
		fmt.Printf("z %v to %v: %v, %v\n", p.From.MM(), p.To.MM(), p.Left.MM(), p.Stage)
	}
	fmt.Printf("%.0f mm³ are gone\n", bar.Volume()-after.Volume())
	// Output:
	// z 0 to 20: 16, finished
	// z 20 to 61: 20, bought
	// 2576 mm³ are gone
}

// Roughing from 20 to 16 in passes of 1 a side: each is charged for the length
// that it meets.
func ExampleState_Above() {
	bar := work.Bar(60*work.MM, work.Span{From: 0, To: 60 * work.MM}, 20*work.MM, 0, 0)
	after := bar.After(
		work.Turned(work.Span{From: 0, To: 40 * work.MM}, 18*work.MM, work.Rough),
		work.Turned(work.Span{From: 0, To: 15 * work.MM}, 16*work.MM, work.Rough),
	)
	fmt.Println(bar.Above(after, 18*work.MM, 20*work.MM).MM(), bar.Above(after, 16*work.MM, 18*work.MM).MM())
	// Output: 40 15
}

// A centre stands in its hole, and after that was drilled through in what is left
// of its mouth.
func ExampleState_Mouth() {
	w := work.Bar(60*work.MM, work.Span{From: 0, To: 60 * work.MM}, 20*work.MM, 0, 0)
	w = w.After(work.Centre{End: part.Right, Dia: 6 * work.MM, Pilot: 2 * work.MM})
	dia, ok := w.Mouth(part.Right)
	fmt.Println(dia.MM(), ok)
	w = w.After(work.Bore{From: part.Right, Dia: 5 * work.MM, Depth: 30 * work.MM, Point: 118e6})
	dia, ok = w.Mouth(part.Right)
	fmt.Println(dia.MM(), ok, w.EndAt(part.Right).Centre)
	// Output:
	// 6 true
	// 6 true <nil>
}

func ExampleCross() {
	text, _ := json.Marshal([]work.Removal{work.Cross{Z: 24 * work.MM, Dia: 4 * work.MM}})
	fmt.Println(string(text))
	// Output: [{"shape":"cross","z_mm":24,"roll_deg":0,"dia_mm":4,"depth_mm":null,"offset_mm":0}]
}
