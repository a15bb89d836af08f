import type { ReactNode } from "react";
import { Tabs as AriaTabs, Tab, TabList, TabPanel } from "react-aria-components/Tabs";

export interface TabEntry {
  id: string;
  title: ReactNode;
  body: ReactNode;
}

/** Parts of one screen, one at a time. */
export function Tabs({
  label,
  tabs,
  selected,
  onChange,
}: {
  label: string;
  tabs: readonly TabEntry[];
  selected?: string;
  onChange?: (id: string) => void;
}) {
  return (
    <AriaTabs
      {...(selected !== undefined && { selectedKey: selected })}
      {...(onChange && { onSelectionChange: (key) => onChange(String(key)) })}
    >
      <TabList aria-label={label} className="tab-list">
        {tabs.map((tab) => (
          <Tab key={tab.id} id={tab.id} className="tab">
            {tab.title}
          </Tab>
        ))}
      </TabList>
      {tabs.map((tab) => (
        <TabPanel key={tab.id} id={tab.id} className="tab-panel">
          {tab.body}
        </TabPanel>
      ))}
    </AriaTabs>
  );
}
