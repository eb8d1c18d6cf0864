package plan

import (
	"fmt"

	"setover/setup/shop"
)

func indexText(h *shop.DividingHead, sides int) string {
	return fmt.Sprintf("%d/%d turns", h.Ratio, sides)
}
